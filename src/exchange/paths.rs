//! Signal paths to start from: the stages that sets of a kind have in common, without any maker's
//! data. How often a stage fails and what a look takes are common practice, no source.

use crate::metrology::inference::suspects::Reach;
use crate::procedure::{Chance, CheckPoint, Effort, Id, Signal, SignalPath, Stage};

use Chance::{Often, Seldom, Usual};
use Effort::{Little, Much, Some as Fair};
use Reach::{Alone, Bias, Through};

/// A stage: its name, how often it fails, and its places to look.
type Written = (&'static str, Chance, &'static [Place]);

/// A place to look: what it shows, what is looked at, what is expected, and what it takes.
type Place = (Reach, &'static str, &'static str, Effort);

const TRACER: &str = "Feed the aerial socket from the generator with a modulated carrier and follow it with a probe.";
const AS_BEFORE: &str = "as before it";
const A_LITTLE_LESS: &str = "a few dB less than before it";
const LARGER: &str = "larger than before it";
const BY_DIAGRAM: &str = "as the circuit diagram says";
const ITS_OWN: &str = "its frequency and level";

#[rustfmt::skip]
const RECEIVER_FRONT: [Written; 9] = [
    ("Receiver supply", Usual, &[
        (Alone, "Receiver's rail", "its rail voltage, and none in transmit", Little),
    ]),
    ("Aerial socket and relay", Usual, &[
        (Through, "Signal after the aerial relay", "as at the socket", Fair),
    ]),
    ("RF amplifier", Often, &[
        (Through, "Signal after the RF amplifier", LARGER, Fair),
        (Bias, "DC at the RF amplifier", BY_DIAGRAM, Fair),
    ]),
    ("First oscillator", Usual, &[
        (Alone, "First oscillator", ITS_OWN, Little),
    ]),
    ("First mixer", Usual, &[
        (Through, "First IF after the mixer", "the first IF is there", Fair),
        (Bias, "DC at the first mixer", BY_DIAGRAM, Fair),
    ]),
    ("First IF filter", Seldom, &[
        (Through, "First IF after its filter", A_LITTLE_LESS, Fair),
    ]),
    ("Second oscillator", Usual, &[
        (Alone, "Second oscillator", ITS_OWN, Little),
    ]),
    ("Second mixer", Usual, &[
        (Through, "Second IF after the mixer", "the second IF is there", Fair),
        (Bias, "DC at the second mixer", BY_DIAGRAM, Fair),
    ]),
    ("Second IF filter", Seldom, &[
        (Through, "Second IF after its filter", A_LITTLE_LESS, Fair),
    ]),
];

#[rustfmt::skip]
const AGC: [Written; 1] = [
    ("AGC", Usual, &[
        (Alone, "AGC voltage", "at rest without a signal, moving with one", Little),
    ]),
];

#[rustfmt::skip]
const IF_AMPLIFIER: [Written; 1] = [
    ("Second IF amplifier", Usual, &[
        (Through, "Second IF after the amplifier", "much larger than before it", Little),
        (Bias, "DC at the IF amplifier", BY_DIAGRAM, Fair),
    ]),
];

#[rustfmt::skip]
const AM_DETECTOR: [Written; 1] = [
    ("AM detector", Seldom, &[
        (Through, "Audio at the detector", "the tone of the generator", Little),
    ]),
];

#[rustfmt::skip]
const FM_DETECTOR: [Written; 2] = [
    ("Limiter", Usual, &[
        (Through, "IF after the limiter", "the same level for any strong signal", Little),
        (Bias, "DC at the limiter", BY_DIAGRAM, Fair),
    ]),
    ("Discriminator", Usual, &[
        (Through, "Audio at the discriminator", "the tone of the generator", Little),
    ]),
];

#[rustfmt::skip]
const SSB_DETECTOR: [Written; 2] = [
    ("Carrier oscillator", Usual, &[
        (Alone, "Carrier oscillator", "its frequency and level in this mode", Little),
    ]),
    ("Product detector", Usual, &[
        (Through, "Audio at the product detector", "a beat note that follows the clarifier", Little),
        (Bias, "DC at the product detector", BY_DIAGRAM, Fair),
    ]),
];

#[rustfmt::skip]
const AUDIO_END: [Written; 7] = [
    ("Squelch and noise gate", Often, &[
        (Through, "Audio after the squelch gate", "audio with the squelch open", Little),
        (Bias, "Control voltage of the squelch", "it changes with the squelch control", Little),
    ]),
    ("Volume control", Often, &[
        (Through, "Audio at the wiper of the volume control", "it follows the control, without crackle", Little),
    ]),
    ("Audio preamplifier", Usual, &[
        (Through, "Audio after the preamplifier", LARGER, Little),
        (Bias, "DC at the audio preamplifier", BY_DIAGRAM, Little),
    ]),
    ("Audio output stage", Often, &[
        (Through, "Audio after the output stage", "volts, not millivolts", Little),
        (Bias, "DC at the output stage", "near half its supply, where it is a single-supply stage", Little),
    ]),
    ("Output coupling capacitor", Usual, &[
        (Through, "Audio after the coupling capacitor", "audio, and no DC", Little),
    ]),
    ("Loudspeaker switch and socket", Often, &[
        (Through, "Audio after the loudspeaker socket's contacts", "as before the socket", Little),
    ]),
    ("Loudspeaker", Usual, &[
        (Through, "Sound", "it can be heard", Little),
    ]),
];

#[rustfmt::skip]
const AUDIO: [Written; 15] = [
    ("Audio supply", Usual, &[
        (Alone, "Rail of the audio stages", "its rail voltage, without hum", Little),
    ]),
    ("Detector", Seldom, &[
        (Through, "Audio at the detector", "the tone of the generator", Little),
    ]),
    ("Noise limiter", Usual, &[
        (Through, "Audio after the noise limiter", AS_BEFORE, Little),
    ]),
    ("Squelch and noise gate", Often, &[
        (Through, "Audio after the squelch gate", "audio with the squelch open", Little),
        (Bias, "Control voltage of the squelch", "it changes with the squelch control", Little),
    ]),
    ("Mute line", Usual, &[
        (Alone, "Mute line", "at its level for receive", Little),
    ]),
    ("Volume control", Often, &[
        (Through, "Audio at the wiper of the volume control", "it follows the control, without crackle", Little),
    ]),
    ("Tone control", Seldom, &[
        (Through, "Audio after the tone control", "a little less than before it", Little),
    ]),
    ("Input coupling capacitor", Usual, &[
        (Through, "Audio at the preamplifier's input", AS_BEFORE, Little),
    ]),
    ("Audio preamplifier", Usual, &[
        (Through, "Audio after the preamplifier", LARGER, Little),
        (Bias, "DC at the audio preamplifier", BY_DIAGRAM, Little),
    ]),
    ("Audio driver", Usual, &[
        (Through, "Audio after the driver", LARGER, Little),
        (Bias, "DC at the driver", BY_DIAGRAM, Little),
    ]),
    ("Audio output stage", Often, &[
        (Through, "Audio after the output stage", "volts, not millivolts", Little),
        (Bias, "DC at the output stage", "near half its supply, where it is a single-supply stage", Little),
    ]),
    ("Output coupling capacitor", Usual, &[
        (Through, "Audio after the coupling capacitor", "audio, and no DC", Little),
    ]),
    ("Loudspeaker switch and socket", Often, &[
        (Through, "Audio after the loudspeaker socket's contacts", "as before the socket", Little),
    ]),
    ("Loudspeaker lead", Seldom, &[
        (Through, "Audio at the loudspeaker's terminals", "as at the socket", Little),
    ]),
    ("Loudspeaker", Usual, &[
        (Through, "Sound", "it can be heard", Little),
    ]),
];

#[rustfmt::skip]
const TRANSMITTER: [Written; 24] = [
    ("Transmitter supply", Usual, &[
        (Alone, "Transmitter's rail when keyed", "its rail voltage", Little),
    ]),
    ("Key line", Often, &[
        (Alone, "Key line when keyed", "it changes to its level for transmit", Little),
    ]),
    ("Microphone and its socket", Often, &[
        (Through, "Audio at the microphone socket", "some millivolts when spoken to", Little),
    ]),
    ("Microphone gain control", Often, &[
        (Through, "Audio at the wiper of the gain control", "it follows the control", Little),
    ]),
    ("Microphone amplifier", Usual, &[
        (Through, "Audio after the microphone amplifier", LARGER, Little),
        (Bias, "DC at the microphone amplifier", BY_DIAGRAM, Little),
    ]),
    ("Speech limiter", Seldom, &[
        (Through, "Audio after the speech limiter", "not more than its limit", Little),
    ]),
    ("Carrier oscillator", Usual, &[
        (Alone, "Carrier oscillator", "its frequency and level in this mode", Little),
    ]),
    ("Balanced modulator", Usual, &[
        (Through, "Sidebands after the balanced modulator", "both sidebands, little carrier", Fair),
        (Bias, "DC at the balanced modulator", BY_DIAGRAM, Fair),
    ]),
    ("Sideband filter", Seldom, &[
        (Through, "One sideband after the filter", A_LITTLE_LESS, Fair),
    ]),
    ("Sideband amplifier", Usual, &[
        (Through, "Sideband after its amplifier", LARGER, Fair),
        (Bias, "DC at the sideband amplifier", BY_DIAGRAM, Fair),
    ]),
    ("Transmit mixer's oscillator", Usual, &[
        (Alone, "Oscillator of the transmit mixer", ITS_OWN, Little),
    ]),
    ("Transmit mixer", Usual, &[
        (Through, "Channel frequency after the mixer", "the channel frequency is there", Fair),
        (Bias, "DC at the transmit mixer", BY_DIAGRAM, Fair),
    ]),
    ("Band-pass filter", Seldom, &[
        (Through, "Channel frequency after the band-pass", A_LITTLE_LESS, Fair),
    ]),
    ("Level control", Seldom, &[
        (Alone, "ALC voltage when keyed", "at rest without modulation", Little),
    ]),
    ("Predriver", Usual, &[
        (Through, "RF after the predriver", LARGER, Fair),
        (Bias, "DC at the predriver", BY_DIAGRAM, Little),
    ]),
    ("Coupling to the driver", Seldom, &[
        (Through, "RF at the driver's input", A_LITTLE_LESS, Fair),
    ]),
    ("Driver", Often, &[
        (Through, "RF after the driver", LARGER, Fair),
        (Bias, "DC and bias at the driver", BY_DIAGRAM, Little),
    ]),
    ("Coupling to the output stage", Seldom, &[
        (Through, "RF at the output stage's input", A_LITTLE_LESS, Fair),
    ]),
    ("Output stage", Often, &[
        (Through, "RF after the output stage", "about the output power", Fair),
        (Bias, "DC and bias at the output stage", BY_DIAGRAM, Little),
    ]),
    ("Output matching", Usual, &[
        (Through, "RF after the matching", "the output power into the filter", Fair),
    ]),
    ("Low-pass filter", Usual, &[
        (Through, "RF after the low-pass filter", "nearly as much as before it", Fair),
    ]),
    ("Power and SWR pick-up", Seldom, &[
        (Through, "RF after the pick-up", AS_BEFORE, Much),
    ]),
    ("Aerial relay", Often, &[
        (Through, "RF after the aerial relay", AS_BEFORE, Fair),
    ]),
    ("Aerial socket", Usual, &[
        (Through, "Power into the dummy load", "the set's power", Little),
    ]),
];

#[rustfmt::skip]
const LOOP: [Written; 15] = [
    ("Loop supply", Usual, &[
        (Alone, "Loop's rail", "its rail voltage, without ripple", Little),
    ]),
    ("Channel code", Often, &[
        (Alone, "Code lines of the channel switch", "the code of the channel", Fair),
    ]),
    ("Reference oscillator", Usual, &[
        (Alone, "Reference oscillator", ITS_OWN, Little),
    ]),
    ("Reference divider", Seldom, &[
        (Alone, "Output of the reference divider", "the step frequency", Little),
    ]),
    ("Control line", Usual, &[
        (Through, "Bench's voltage at the tuning diode", "as it is set", Little),
    ]),
    ("Controlled oscillator", Often, &[
        (Through, "Controlled oscillator", "its range, as the voltage is moved", Little),
        (Bias, "DC at the controlled oscillator", BY_DIAGRAM, Fair),
    ]),
    ("Buffer", Usual, &[
        (Through, "Signal after the buffer", "the oscillator's, at the level for the mixer", Little),
        (Bias, "DC at the buffer", BY_DIAGRAM, Little),
    ]),
    ("Coupling to the loop mixer", Seldom, &[
        (Through, "Signal at the loop mixer's input", A_LITTLE_LESS, Little),
    ]),
    ("Offset oscillator", Usual, &[
        (Alone, "Offset oscillator", ITS_OWN, Little),
    ]),
    ("Loop mixer", Usual, &[
        (Through, "Difference after the loop mixer", "a few megahertz, moving with the bench's voltage", Little),
        (Bias, "DC at the loop mixer", BY_DIAGRAM, Little),
    ]),
    ("Loop low-pass filter", Seldom, &[
        (Through, "Difference after its filter", "without the sum", Little),
    ]),
    ("Loop amplifier", Usual, &[
        (Through, "Difference at the divider's input", "at the divider's level", Little),
        (Bias, "DC at the loop amplifier", BY_DIAGRAM, Little),
    ]),
    ("Programmed divider", Usual, &[
        (Through, "Output of the programmed divider", "it crosses the step frequency as the voltage is moved", Little),
    ]),
    ("Phase detector", Usual, &[
        (Through, "Output of the phase detector", "it swings from end to end as the step frequency is crossed", Little),
    ]),
    ("Loop filter", Usual, &[
        (Through, "Output of the loop filter", "the same, and smooth", Little),
    ]),
];

#[rustfmt::skip]
const SUPPLY: [Written; 15] = [
    ("Supply lead and plug", Often, &[
        (Through, "Volts at the set's supply socket, under load", "as at the supply", Little),
    ]),
    ("Fuse and holder", Often, &[
        (Through, "Volts after the fuse", AS_BEFORE, Little),
    ]),
    ("Polarity protection", Usual, &[
        (Through, "Volts after the protection", "as before it, or one diode less", Little),
    ]),
    ("Input filter", Seldom, &[
        (Through, "Volts after the filter choke", AS_BEFORE, Little),
    ]),
    ("Power switch", Often, &[
        (Through, "Volts after the power switch", AS_BEFORE, Little),
    ]),
    ("Wiring to the board", Seldom, &[
        (Through, "Volts at the board's input", "as after the switch", Little),
    ]),
    ("Filter capacitor", Usual, &[
        (Alone, "Ripple at the board's input", "some millivolts", Little),
    ]),
    ("Regulator's input", Seldom, &[
        (Through, "Volts at the regulator's input", AS_BEFORE, Little),
    ]),
    ("Regulator", Usual, &[
        (Through, "Regulated rail", "its voltage, steady while the supply is moved", Little),
        (Bias, "Reference of the regulator", BY_DIAGRAM, Fair),
    ]),
    ("Rail decoupling", Usual, &[
        (Alone, "Ripple on the rail", "a few millivolts", Little),
    ]),
    ("Rail to the switching", Seldom, &[
        (Through, "Rail at the switching", "as at the regulator", Little),
    ]),
    ("Receive and transmit switching", Often, &[
        (Through, "Switched rails", "each in its state, and only there", Little),
        (Bias, "Drive of the switching transistors", BY_DIAGRAM, Fair),
    ]),
    ("Switched rail", Seldom, &[
        (Through, "Switched rail at the stage", "as at the switching", Fair),
    ]),
    ("Feed resistor or choke", Usual, &[
        (Through, "Volts after the feed resistor or choke", "a little less than before it", Fair),
    ]),
    ("Stage's own feed", Seldom, &[
        (Through, "Volts at the stage's device", BY_DIAGRAM, Fair),
    ]),
];

/// All of them.
pub fn paths() -> Vec<SignalPath> {
    let receiver = |mode: &str, control: &[Written], detector: &[Written]| SignalPath {
        lead: TRACER.to_owned(),
        caution: "Never key the set while the generator is on its socket".to_owned(),
        mode: if mode == "SSB" { "USB" } else { mode }.to_owned(),
        signal: Some(Signal::Rx),
        ..path(
            &format!("Receiver, {mode}"),
            &[
                &RECEIVER_FRONT,
                control,
                &IF_AMPLIFIER,
                detector,
                &AUDIO_END,
            ]
            .concat(),
        )
    };
    vec![
        receiver("AM", &AGC, &AM_DETECTOR),
        receiver("FM", &[], &FM_DETECTOR),
        receiver("SSB", &AGC, &SSB_DETECTOR),
        SignalPath {
            lead: "Key it into the dummy load for a few seconds a look.".to_owned(),
            caution: "RF burns: hands off the socket and the output stage while it is keyed"
                .to_owned(),
            signal: Some(Signal::Tx),
            confirm: "The dummy load is on the aerial socket.".to_owned(),
            ..path("Transmitter", &TRANSMITTER)
        },
        SignalPath {
            lead: "Open the loop: give the controlled oscillator its voltage from a bench supply through a resistor, and set that near the middle of its range.".to_owned(),
            caution: "Keep the voltage within what the control line may have".to_owned(),
            confirm: "The loop is open and the bench's voltage is on the control line.".to_owned(),
            ..path("Frequency loop", &LOOP)
        },
        SignalPath {
            lead: "Let the receiver hear a modulated carrier from the generator.".to_owned(),
            caution: "Never key the set while the generator is on its socket".to_owned(),
            signal: Some(Signal::Rx),
            ..path("Audio", &AUDIO)
        },
        SignalPath {
            lead: "Feed the set from a supply with a current limit.".to_owned(),
            caution: "Fed from the mains it can kill: measure there only where you may, with one hand; capacitors stay charged".to_owned(),
            ..path("Supply", &SUPPLY)
        },
    ]
}

fn path(title: &str, stages: &[Written]) -> SignalPath {
    let stages = stages.iter().enumerate();
    SignalPath {
        title: title.to_owned(),
        stages: stages.filter_map(|(place, it)| stage(place, *it)).collect(),
        ..SignalPath::default()
    }
}

fn stage(place: usize, (name, chance, places): Written) -> Option<Stage> {
    let check = |(shows, what, expect, effort): &Place| CheckPoint {
        shows: *shows,
        what: (*what).to_owned(),
        at: String::new(),
        expect: (*expect).to_owned(),
        limit: None,
        effort: *effort,
    };
    let id: Id = format!("stage-{}", place + 1).parse().ok()?;
    Some(Stage {
        id,
        name: name.to_owned(),
        chance,
        checks: places.iter().map(check).collect(),
    })
}
