//! Where each step of a job stands, as short as a list over all jobs can have it.

use crate::job::{Progress, Status, StepProgress};
use serde::{Deserialize, Serialize};

/// Where a step stands, as a line map of the job tells it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tick {
    /// Still to be done.
    Open,
    /// Behind a stop.
    Locked,
    /// Done.
    Done,
    /// Done, and found outside.
    FoundOut,
    /// Outside now.
    Outside,
    /// To be done anew.
    Again,
    /// Left out.
    Waived,
    /// A stop that is to be confirmed.
    Hold,
    /// A stop that holds.
    Held,
}

/// Each with the letter that it is stored as.
const LETTERS: [(Tick, char); 9] = [
    (Tick::Open, 'o'),
    (Tick::Locked, 'l'),
    (Tick::Done, 'd'),
    (Tick::FoundOut, 'f'),
    (Tick::Outside, 'x'),
    (Tick::Again, 'a'),
    (Tick::Waived, 'w'),
    (Tick::Hold, 's'),
    (Tick::Held, 'h'),
];

impl Tick {
    fn of(step: &StepProgress, is_stop: bool) -> Self {
        match (is_stop, step.status) {
            (_, Status::Waived) => Tick::Waived,
            (true, Status::Done) => Tick::Held,
            (true, _) => Tick::Hold,
            (_, Status::Done) if was_outside(step) => Tick::FoundOut,
            (_, Status::Done) => Tick::Done,
            (_, Status::Outside) => Tick::Outside,
            (_, Status::Open) if step.behind.is_some() => Tick::Locked,
            (_, Status::Open) => Tick::Open,
            _ => Tick::Again,
        }
    }

    /// Whether a step is done with.
    pub const fn is_settled(self) -> bool {
        matches!(
            self,
            Tick::Done | Tick::FoundOut | Tick::Held | Tick::Waived
        )
    }
}

fn was_outside(step: &StepProgress) -> bool {
    let found = step.found.as_ref();
    let verdict = found.and_then(|found| found.verdict.as_ref());
    verdict.is_some_and(|verdict| !verdict.is_inside())
}

/// The ticks of a job in the order of its steps.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub struct LineMap(pub Vec<Tick>);

impl LineMap {
    /// The map of a job.
    pub fn of(progress: &Progress) -> Self {
        let steps = progress.course.procedure.steps();
        let both = steps.zip(&progress.steps);
        LineMap(
            both.map(|(step, standing)| Tick::of(standing, step.work.is_stop()))
                .collect(),
        )
    }

    /// How many steps are done with.
    pub fn settled(&self) -> usize {
        self.0.iter().filter(|tick| tick.is_settled()).count()
    }
}

impl From<LineMap> for String {
    fn from(map: LineMap) -> Self {
        let letter = |tick: &Tick| {
            let known = LETTERS.iter().find(|(it, _)| it == tick);
            known.map(|(_, letter)| *letter)
        };
        map.0.iter().filter_map(letter).collect()
    }
}

impl TryFrom<String> for LineMap {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        let tick = |letter: char| {
            let known = LETTERS.iter().find(|(_, it)| *it == letter);
            known
                .map(|(tick, _)| *tick)
                .ok_or_else(|| format!("no step stands at “{letter}”"))
        };
        text.chars()
            .map(tick)
            .collect::<Result<_, _>>()
            .map(LineMap)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_map_reads_back_as_it_was_stored() {
        let all = LineMap(LETTERS.iter().map(|(tick, _)| *tick).collect());
        let text = serde_json::to_string(&all).expect("a text");
        assert_eq!(text, r#""oldfxawsh""#);
        assert_eq!(serde_json::from_str::<LineMap>(&text).expect("a map"), all);
        assert!(serde_json::from_str::<LineMap>(r#""od?""#).is_err());
    }
}
