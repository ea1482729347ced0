//! Signal paths to start from: the stages that sets of a kind have in common, without any maker's
//! data. How often a stage fails and what a look takes are common practice, no source.

use crate::metrology::suspects::Reach;
use crate::procedure::{Chance, CheckPoint, Effort, Id, Signal, SignalPath, Stage};

use Chance::{Often, Seldom, Usual};
use Effort::{Little, Much, Some as Fair};
use Reach::{Alone, Bias, Through};

/// A stage: its name, how often it fails, and its places to look.
type Written = (&'static str, Chance, &'static [Place]);

/// A place to look: what it shows, what is looked at, what is expected, and what it takes.
type Place = (Reach, &'static str, &'static str, Effort);

const TRACER: &str = "Feed the aerial socket from the generator with a modulated carrier and follow it with a probe.";

const RECEIVER_FRONT: [Written; 9] = [
    (
        "Receiver supply",
        Usual,
        &[(
            Alone,
            "Receiver's rail",
            "its rail voltage, and none in transmit",
            Little,
        )],
    ),
    (
        "Aerial socket and relay",
        Usual,
        &[(
            Through,
            "Signal after the aerial relay",
            "as at the socket",
            Fair,
        )],
    ),
    (
        "RF amplifier",
        Often,
        &[
            (
                Through,
                "Signal after the RF amplifier",
                "larger than at its input",
                Fair,
            ),
            (
                Bias,
                "DC at the RF amplifier",
                "as the circuit diagram says",
                Fair,
            ),
        ],
    ),
    (
        "First oscillator",
        Usual,
        &[(Alone, "First oscillator", "its frequency and level", Little)],
    ),
    (
        "First mixer",
        Usual,
        &[
            (
                Through,
                "First IF after the mixer",
                "the first IF is there",
                Fair,
            ),
            (
                Bias,
                "DC at the first mixer",
                "as the circuit diagram says",
                Fair,
            ),
        ],
    ),
    (
        "First IF filter",
        Seldom,
        &[(
            Through,
            "First IF after its filter",
            "a few dB less than before it",
            Fair,
        )],
    ),
    (
        "Second oscillator",
        Usual,
        &[(
            Alone,
            "Second oscillator",
            "its frequency and level",
            Little,
        )],
    ),
    (
        "Second mixer",
        Usual,
        &[
            (
                Through,
                "Second IF after the mixer",
                "the second IF is there",
                Fair,
            ),
            (
                Bias,
                "DC at the second mixer",
                "as the circuit diagram says",
                Fair,
            ),
        ],
    ),
    (
        "Second IF filter",
        Seldom,
        &[(
            Through,
            "Second IF after its filter",
            "a few dB less than before it",
            Fair,
        )],
    ),
];

const IF_AMPLIFIER: Written = (
    "Second IF amplifier",
    Usual,
    &[
        (
            Through,
            "Second IF after the amplifier",
            "much larger than before it",
            Little,
        ),
        (
            Bias,
            "DC at the IF amplifier",
            "as the circuit diagram says",
            Fair,
        ),
    ],
);

const AGC: Written = (
    "AGC",
    Usual,
    &[(
        Alone,
        "AGC voltage",
        "at rest without a signal, moving with one",
        Little,
    )],
);

const AUDIO_END: [Written; 7] = [
    (
        "Squelch and noise gate",
        Often,
        &[
            (
                Through,
                "Audio after the squelch gate",
                "audio with the squelch open",
                Little,
            ),
            (
                Bias,
                "Control voltage of the squelch",
                "it changes with the squelch control",
                Little,
            ),
        ],
    ),
    (
        "Volume control",
        Often,
        &[(
            Through,
            "Audio at the wiper of the volume control",
            "it follows the control, without crackle",
            Little,
        )],
    ),
    (
        "Audio preamplifier",
        Usual,
        &[
            (
                Through,
                "Audio after the preamplifier",
                "larger than before it",
                Little,
            ),
            (
                Bias,
                "DC at the audio preamplifier",
                "as the circuit diagram says",
                Little,
            ),
        ],
    ),
    (
        "Audio output stage",
        Often,
        &[
            (
                Through,
                "Audio after the output stage",
                "volts, not millivolts",
                Little,
            ),
            (
                Bias,
                "DC at the output stage",
                "near half its supply, where it is a single-supply stage",
                Little,
            ),
        ],
    ),
    (
        "Output coupling capacitor",
        Usual,
        &[(
            Through,
            "Audio after the coupling capacitor",
            "audio, and no DC",
            Little,
        )],
    ),
    (
        "Loudspeaker switch and socket",
        Often,
        &[(
            Through,
            "Audio after the loudspeaker socket's contacts",
            "as before the socket",
            Little,
        )],
    ),
    (
        "Loudspeaker",
        Usual,
        &[(Through, "Sound", "it can be heard", Little)],
    ),
];

const AM_DETECTOR: Written = (
    "AM detector",
    Seldom,
    &[(
        Through,
        "Audio at the detector",
        "the tone of the generator",
        Little,
    )],
);

const FM_BACK: [Written; 2] = [
    (
        "Limiter",
        Usual,
        &[
            (
                Through,
                "IF after the limiter",
                "the same level for any strong signal",
                Little,
            ),
            (
                Bias,
                "DC at the limiter",
                "as the circuit diagram says",
                Fair,
            ),
        ],
    ),
    (
        "Discriminator",
        Usual,
        &[(
            Through,
            "Audio at the discriminator",
            "the tone of the generator",
            Little,
        )],
    ),
];

const SSB_BACK: [Written; 2] = [
    (
        "Carrier oscillator",
        Usual,
        &[(
            Alone,
            "Carrier oscillator",
            "its frequency and level in this mode",
            Little,
        )],
    ),
    (
        "Product detector",
        Usual,
        &[
            (
                Through,
                "Audio at the product detector",
                "a beat note that follows the clarifier",
                Little,
            ),
            (
                Bias,
                "DC at the product detector",
                "as the circuit diagram says",
                Fair,
            ),
        ],
    ),
];

const TRANSMITTER: [Written; 17] = [
    (
        "Transmitter supply",
        Usual,
        &[(
            Alone,
            "Transmitter's rail when keyed",
            "its rail voltage",
            Little,
        )],
    ),
    (
        "Microphone and its socket",
        Often,
        &[(
            Through,
            "Audio at the microphone socket",
            "some millivolts when spoken to",
            Little,
        )],
    ),
    (
        "Microphone amplifier",
        Usual,
        &[
            (
                Through,
                "Audio after the microphone amplifier",
                "larger than before it",
                Little,
            ),
            (
                Bias,
                "DC at the microphone amplifier",
                "as the circuit diagram says",
                Little,
            ),
        ],
    ),
    (
        "Carrier oscillator",
        Usual,
        &[(
            Alone,
            "Carrier oscillator",
            "its frequency and level in this mode",
            Little,
        )],
    ),
    (
        "Balanced modulator",
        Usual,
        &[
            (
                Through,
                "Sidebands after the balanced modulator",
                "both sidebands, little carrier",
                Fair,
            ),
            (
                Bias,
                "DC at the balanced modulator",
                "as the circuit diagram says",
                Fair,
            ),
        ],
    ),
    (
        "Sideband filter",
        Seldom,
        &[(
            Through,
            "One sideband after the filter",
            "a few dB less than before it",
            Fair,
        )],
    ),
    (
        "Transmit mixer's oscillator",
        Usual,
        &[(
            Alone,
            "Oscillator of the transmit mixer",
            "its frequency and level",
            Little,
        )],
    ),
    (
        "Transmit mixer",
        Usual,
        &[
            (
                Through,
                "Channel frequency after the mixer",
                "the channel frequency is there",
                Fair,
            ),
            (
                Bias,
                "DC at the transmit mixer",
                "as the circuit diagram says",
                Fair,
            ),
        ],
    ),
    (
        "Band-pass filter",
        Seldom,
        &[(
            Through,
            "Channel frequency after the band-pass",
            "a few dB less than before it",
            Fair,
        )],
    ),
    (
        "Level control",
        Seldom,
        &[(
            Alone,
            "ALC voltage when keyed",
            "at rest without modulation",
            Little,
        )],
    ),
    (
        "Predriver",
        Usual,
        &[
            (
                Through,
                "RF after the predriver",
                "larger than before it",
                Fair,
            ),
            (
                Bias,
                "DC at the predriver",
                "as the circuit diagram says",
                Little,
            ),
        ],
    ),
    (
        "Driver",
        Often,
        &[
            (
                Through,
                "RF after the driver",
                "larger than before it",
                Fair,
            ),
            (
                Bias,
                "DC and bias at the driver",
                "as the circuit diagram says",
                Little,
            ),
        ],
    ),
    (
        "Output stage",
        Often,
        &[
            (
                Through,
                "RF after the output stage",
                "about the output power",
                Fair,
            ),
            (
                Bias,
                "DC and bias at the output stage",
                "as the circuit diagram says",
                Little,
            ),
        ],
    ),
    (
        "Low-pass filter",
        Usual,
        &[(
            Through,
            "RF after the low-pass filter",
            "nearly as much as before it",
            Fair,
        )],
    ),
    (
        "Power and SWR pick-up",
        Seldom,
        &[(Through, "RF after the pick-up", "as before it", Much)],
    ),
    (
        "Aerial relay",
        Often,
        &[(Through, "RF after the aerial relay", "as before it", Fair)],
    ),
    (
        "Aerial socket",
        Usual,
        &[(
            Through,
            "Power into the dummy load",
            "the set's power",
            Little,
        )],
    ),
];

const LOOP: [Written; 10] = [
    (
        "Loop supply",
        Usual,
        &[(
            Alone,
            "Loop's rail",
            "its rail voltage, without ripple",
            Little,
        )],
    ),
    (
        "Channel code",
        Often,
        &[(
            Alone,
            "Code lines of the channel switch",
            "the code of the channel",
            Fair,
        )],
    ),
    (
        "Reference oscillator",
        Usual,
        &[(
            Alone,
            "Reference oscillator",
            "its frequency and level",
            Little,
        )],
    ),
    (
        "Reference divider",
        Seldom,
        &[(
            Alone,
            "Output of the reference divider",
            "the step frequency",
            Little,
        )],
    ),
    (
        "Controlled oscillator",
        Often,
        &[
            (
                Through,
                "Controlled oscillator on the bench's voltage",
                "its range, as the voltage is moved",
                Little,
            ),
            (
                Bias,
                "DC at the controlled oscillator",
                "as the circuit diagram says",
                Fair,
            ),
        ],
    ),
    (
        "Buffer",
        Usual,
        &[
            (
                Through,
                "Signal after the buffer",
                "the oscillator's, at the level for the mixer",
                Little,
            ),
            (
                Bias,
                "DC at the buffer",
                "as the circuit diagram says",
                Little,
            ),
        ],
    ),
    (
        "Offset oscillator",
        Usual,
        &[(
            Alone,
            "Offset oscillator",
            "its frequency and level",
            Little,
        )],
    ),
    (
        "Loop mixer",
        Usual,
        &[(
            Through,
            "Difference after the loop mixer",
            "a few megahertz, moving with the bench's voltage",
            Little,
        )],
    ),
    (
        "Programmed divider",
        Usual,
        &[(
            Through,
            "Output of the programmed divider",
            "it crosses the step frequency as the voltage is moved",
            Little,
        )],
    ),
    (
        "Phase detector and loop filter",
        Usual,
        &[(
            Through,
            "Output of the loop filter",
            "it swings from end to end as the step frequency is crossed",
            Little,
        )],
    ),
];

const SUPPLY: [Written; 10] = [
    (
        "Supply lead and plug",
        Often,
        &[(
            Through,
            "Volts at the set's supply socket, under load",
            "as at the supply",
            Little,
        )],
    ),
    (
        "Fuse and holder",
        Often,
        &[(Through, "Volts after the fuse", "as before it", Little)],
    ),
    (
        "Polarity protection",
        Usual,
        &[(
            Through,
            "Volts after the protection",
            "as before it, or one diode less",
            Little,
        )],
    ),
    (
        "Input filter",
        Seldom,
        &[(
            Through,
            "Volts after the filter choke",
            "as before it",
            Little,
        )],
    ),
    (
        "Power switch",
        Often,
        &[(
            Through,
            "Volts after the power switch",
            "as before it",
            Little,
        )],
    ),
    (
        "Regulator",
        Usual,
        &[
            (
                Through,
                "Regulated rail",
                "its voltage, steady while the supply is moved",
                Little,
            ),
            (
                Bias,
                "Reference of the regulator",
                "as the circuit diagram says",
                Fair,
            ),
        ],
    ),
    (
        "Rail decoupling",
        Usual,
        &[(Alone, "Ripple on the rail", "a few millivolts", Little)],
    ),
    (
        "Receive and transmit switching",
        Often,
        &[
            (
                Through,
                "Switched rails",
                "each in its state, and only there",
                Little,
            ),
            (
                Bias,
                "Drive of the switching transistors",
                "as the circuit diagram says",
                Fair,
            ),
        ],
    ),
    (
        "Wiring to the stages",
        Seldom,
        &[(
            Through,
            "Rail at the last stage",
            "as at the switching",
            Fair,
        )],
    ),
    (
        "Decoupling at the stage",
        Usual,
        &[(
            Through,
            "Rail after the stage's resistor",
            "a little less than before it",
            Fair,
        )],
    ),
];

/// All of them.
pub fn paths() -> Vec<SignalPath> {
    let receiver = |title: &str, mode: &str, back: Vec<Written>| SignalPath {
        lead: TRACER.to_owned(),
        caution: "Never key the set while the generator is on its socket".to_owned(),
        mode: mode.to_owned(),
        signal: Some(Signal::Rx),
        ..path(title, back)
    };
    let front = |back: &[Written], control: &[Written]| {
        [
            &RECEIVER_FRONT[..],
            control,
            &[IF_AMPLIFIER],
            back,
            &AUDIO_END,
        ]
        .concat()
    };
    vec![
        receiver("Receiver, AM", "AM", front(&[AM_DETECTOR], &[AGC])),
        receiver("Receiver, FM", "FM", front(&FM_BACK, &[])),
        receiver("Receiver, SSB", "USB", front(&SSB_BACK, &[AGC])),
        SignalPath {
            lead: "Key it into the dummy load for a few seconds a look.".to_owned(),
            caution: "RF burns: hands off the socket and the output stage while it is keyed".to_owned(),
            signal: Some(Signal::Tx),
            confirm: "The dummy load is on the aerial socket.".to_owned(),
            ..path("Transmitter", TRANSMITTER.to_vec())
        },
        SignalPath {
            lead: "Open the loop: give the controlled oscillator its voltage from a bench supply through a resistor, and set that near the middle of its range.".to_owned(),
            caution: "Keep the voltage within what the control line may have".to_owned(),
            confirm: "The loop is open and the bench's voltage is on the control line.".to_owned(),
            ..path("Frequency loop", LOOP.to_vec())
        },
        SignalPath {
            lead: "Feed a tone to the volume control, or let the receiver hear a modulated carrier.".to_owned(),
            ..path("Audio", AUDIO_END.to_vec())
        },
        SignalPath {
            lead: "Feed the set from a supply with a current limit.".to_owned(),
            caution: "Fed from the mains it can kill: measure there only where you may, with one hand; capacitors stay charged".to_owned(),
            ..path("Supply", SUPPLY.to_vec())
        },
    ]
}

fn path(title: &str, stages: Vec<Written>) -> SignalPath {
    let stages = stages.into_iter().enumerate();
    SignalPath {
        title: title.to_owned(),
        stages: stages.filter_map(|(place, it)| stage(place, it)).collect(),
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
