// The worker that reads a PDF. First what could ask the network or store anything is taken from
// it, then the reader begins; modules run in the order in which they are named.
import './mute.js';
import './worker.js';
