//! The sound input and output, through `public/audio.js`.

use js_sys::{Array, Float32Array, Function, Object, Reflect, Uint8Array};
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(catch, js_namespace = ["window", "halfturnAudio"], js_name = inputs)]
    async fn inputs_of() -> Result<JsValue, JsValue>;
    #[wasm_bindgen(catch, js_namespace = ["window", "halfturnAudio"], js_name = open)]
    fn open_input(id: &str, begun: &JsValue, failed: &JsValue) -> Result<Capture, JsValue>;
    #[wasm_bindgen(catch, js_namespace = ["window", "halfturnAudio"], js_name = send)]
    fn send_out(tones: &JsValue, noise: &JsValue, peak: f64) -> Result<Function, JsValue>;
    #[wasm_bindgen(catch, js_namespace = ["window", "halfturnAudio"], js_name = sweep)]
    fn sweep_out(low: f64, high: f64, seconds: f64, peak: f64) -> Result<Function, JsValue>;

    #[wasm_bindgen(catch, js_namespace = ["window", "halfturnAudio"], js_name = play)]
    fn play_out(bytes: &Uint8Array, ended: &JsValue) -> Result<Function, JsValue>;

    type Capture;
    #[wasm_bindgen(method)]
    fn latest(this: &Capture, into: &Float32Array) -> f64;
    #[wasm_bindgen(method)]
    fn end(this: &Capture);
}

/// A sound input.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Input {
    /// By which the browser knows it.
    pub id: String,
    /// By which people do; empty where the browser does not say.
    pub name: String,
}

/// An input that is listened to.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// Which.
    pub input: Input,
    /// Its sample rate in hertz.
    pub rate: f64,
    /// Whether the browser leaves open if it works on the sound.
    pub unsaid: bool,
}

/// Why nothing is heard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// The browser or the user does not let the page listen.
    Denied,
    /// There is no input, or not the one that was asked for.
    NoInput,
    /// Something else has it.
    InUse,
    /// It went away.
    Lost,
    /// The browser works on the sound and can't be told not to.
    Processed(Processing),
    /// The browser lacks what is needed.
    NotSupported,
}

/// What a browser does to sound for calls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Processing {
    /// Takes out what the loudspeaker sends.
    EchoCancellation,
    /// Takes out what it holds for noise.
    NoiseSuppression,
    /// Moves the level.
    GainControl,
}

impl Trouble {
    fn of(reason: &str) -> Trouble {
        match reason {
            "NotAllowedError" | "SecurityError" => Trouble::Denied,
            "NotFoundError" | "OverconstrainedError" => Trouble::NoInput,
            "NotReadableError" | "AbortError" => Trouble::InUse,
            "lost" => Trouble::Lost,
            "processed:echoCancellation" => Trouble::Processed(Processing::EchoCancellation),
            "processed:noiseSuppression" => Trouble::Processed(Processing::NoiseSuppression),
            "processed:autoGainControl" => Trouble::Processed(Processing::GainControl),
            _ => Trouble::NotSupported,
        }
    }
}

/// Something that is listened to until it is dropped.
pub struct Listening {
    capture: Capture,
    // Called by the browser as long as it listens.
    _begun: Closure<dyn FnMut(JsValue)>,
    _failed: Closure<dyn FnMut(JsValue)>,
    newest: Option<Float32Array>,
}

impl Listening {
    /// Asks for an input; the usual one where none is named.
    pub fn to(
        id: &str,
        begun: impl Fn(Source) + 'static,
        failed: impl Fn(Trouble) + 'static,
    ) -> Result<Listening, Trouble> {
        let begun = Closure::<dyn FnMut(JsValue)>::new(move |said: JsValue| begun(source(&said)));
        let failed = Closure::<dyn FnMut(JsValue)>::new(move |why: JsValue| {
            failed(Trouble::of(&why.as_string().unwrap_or_default()));
        });
        let capture = open_input(id, begun.as_ref(), failed.as_ref());
        Ok(Listening {
            capture: capture.map_err(|_| Trouble::NotSupported)?,
            _begun: begun,
            _failed: failed,
            newest: None,
        })
    }

    /// The newest samples, and how many came so far; nothing before there are as many.
    pub fn latest(&mut self, count: usize) -> Option<(Vec<f64>, f64)> {
        let fits = |array: &Float32Array| array.length() as usize == count;
        if !self.newest.as_ref().is_some_and(fits) {
            self.newest = Some(Float32Array::new_with_length(count as u32));
        }
        let into = self.newest.as_ref()?;
        let came = self.capture.latest(into);
        if came < count as f64 {
            return None;
        }
        Some((into.to_vec().into_iter().map(f64::from).collect(), came))
    }

    /// As many of the newest samples as there are without a gap, so many at most.
    pub fn last(&self, most: usize) -> Vec<f64> {
        let newest = |count: usize| {
            let into = Float32Array::new_with_length(count as u32);
            let came = self.capture.latest(&into) as usize;
            (into, came)
        };
        let (into, came) = newest(most);
        let into = match came < most {
            true => newest(came).0,
            false => into,
        };
        into.to_vec().into_iter().map(f64::from).collect()
    }
}

impl Drop for Listening {
    fn drop(&mut self) {
        self.capture.end();
    }
}

fn source(said: &JsValue) -> Source {
    let field = |name: &str| Reflect::get(said, &name.into()).unwrap_or_default();
    Source {
        input: input(said),
        rate: field("rate").as_f64().unwrap_or_default(),
        unsaid: field("unsaid").as_bool().unwrap_or_default(),
    }
}

fn input(said: &JsValue) -> Input {
    let field = |name: &str| Reflect::get(said, &name.into()).ok()?.as_string();
    Input {
        id: field("id").unwrap_or_default(),
        name: field("name").unwrap_or_default(),
    }
}

/// The inputs that there are. Browsers name them only once one may be listened to.
pub async fn inputs() -> Vec<Input> {
    let found = inputs_of().await.unwrap_or_default();
    match found.dyn_into::<Array>() {
        Ok(found) => found.iter().map(|one| input(&one)).collect(),
        Err(_) => Vec::new(),
    }
}

/// What is sent.
pub enum Sound {
    /// Tones: frequency in hertz and peak value.
    Tones(Vec<(f64, f64)>),
    /// A second of noise that is repeated, and by what it is multiplied.
    Noise(Vec<f32>, f64),
    /// A tone that goes up and down.
    Sweep {
        /// From here, in hertz.
        low: f64,
        /// To here.
        high: f64,
        /// In so many seconds each way.
        seconds: f64,
        /// Its peak value.
        peak: f64,
    },
}

/// Something that is sent until it is dropped.
pub struct Sending(Function);

impl Sending {
    /// Begins to send; nothing where the browser can't.
    pub fn begin(sound: &Sound) -> Option<Sending> {
        let none = Object::new();
        let ended = match sound {
            Sound::Tones(tones) => {
                let pair =
                    |(hertz, peak): &(f64, f64)| Array::of2(&(*hertz).into(), &(*peak).into());
                let tones: Array = tones.iter().map(pair).collect();
                send_out(&tones, &none, 0.0)
            }
            Sound::Noise(samples, peak) => {
                let samples = Float32Array::from(samples.as_slice());
                send_out(&Array::new(), &samples, *peak)
            }
            Sound::Sweep {
                low,
                high,
                seconds,
                peak,
            } => sweep_out(*low, *high, *seconds, *peak),
        };
        ended.ok().map(Sending)
    }
}

impl Drop for Sending {
    fn drop(&mut self) {
        let _ = self.0.call0(&JsValue::UNDEFINED);
    }
}

/// A sound file that is played until it is over, or dropped.
pub struct Playing {
    end: Function,
    // Called by the browser when it is over.
    _ended: Closure<dyn FnMut(JsValue)>,
}

impl Playing {
    /// Begins to play; `ended` hears whether it was played to its end. Nothing where the browser
    /// can't.
    pub fn begin(bytes: &[u8], ended: impl Fn(bool) + 'static) -> Option<Playing> {
        let ended = Closure::<dyn FnMut(JsValue)>::new(move |whole: JsValue| {
            ended(whole.as_bool().unwrap_or_default());
        });
        let end = play_out(&Uint8Array::from(bytes), ended.as_ref()).ok()?;
        Some(Playing { end, _ended: ended })
    }
}

impl Drop for Playing {
    fn drop(&mut self) {
        let _ = self.end.call0(&JsValue::UNDEFINED);
    }
}
