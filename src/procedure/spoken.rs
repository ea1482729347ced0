//! A step in words, to be read aloud to somebody whose hands and eyes are busy.

use super::{Adjuster, Procedure, Sense, SetUpChange, Step, Work};
use crate::quantity::{DecimalSign, ended};

/// A step as it is read aloud: its number and title, cautions, what changes in the set-up,
/// what to do, where to probe, what to turn, and the target as it is shown.
pub fn spoken(procedure: &Procedure, step: &Step, target: Option<String>) -> String {
    let number = procedure.number_of(&step.id);
    let mut said = Vec::new();
    said.extend(number.map(|number| format!("Step {number}")));
    said.push(step.title.clone());
    said.extend(step.cautions.iter().map(|text| format!("Caution: {text}")));
    said.extend(set_up(procedure, step));
    said.push(step.text.clone());
    said.extend(step.takes_off.iter().map(|item| {
        let details = [item.place.as_str(), item.orientation.as_str()];
        joined(&format!("Remove: {}", item.what), &details)
    }));
    let back = step.puts_back.iter();
    said.extend(back.map(|what| format!("Refit: {what}")));
    said.extend(probe(procedure, step));
    let adjuster = step.work.adjuster().and_then(|id| procedure.adjuster(id));
    said.extend(adjuster.map(turn));
    said.extend(work(procedure, step));
    said.extend(target.map(|target| format!("Target: {target}")));
    said.iter()
        .map(|text| text.trim())
        .filter(|text| !text.is_empty())
        .map(ended)
        .collect::<Vec<_>>()
        .join(" ")
}

/// What differs from the step before; the rest is as it was.
fn set_up(procedure: &Procedure, step: &Step) -> Vec<String> {
    let before = procedure
        .steps()
        .take_while(|other| other.id != step.id)
        .last();
    step.set_up
        .compared_with(before.map(|before| &before.set_up))
        .into_iter()
        .filter(|item| item.change != SetUpChange::Same)
        .map(|item| format!("{}: {}", item.name, item.value))
        .collect()
}

fn probe(procedure: &Procedure, step: &Step) -> Option<String> {
    let gauge = step.work.gauge()?;
    let place = procedure.test_point(&gauge.at).map(|point| &point.place);
    let place = place.map(String::as_str).unwrap_or_default();
    let with = format!("with the {}", gauge.with);
    let through = gauge.through().iter();
    let through = through.map(|role| format!("through the {role}"));
    let through = through.collect::<Vec<_>>().join(", ");
    let probe = format!("Test point {}", gauge.at);
    Some(joined(&probe, &[place, &through, &with]))
}

fn turn(adjuster: &Adjuster) -> String {
    let tool = match adjuster.tool.is_empty() {
        true => String::new(),
        false => format!("with {}", adjuster.tool),
    };
    let sense = match adjuster.clockwise {
        Some(Sense::Raises) => "clockwise raises",
        Some(Sense::Lowers) => "clockwise lowers",
        None => "",
    };
    let what = format!("Adjust {}", adjuster.id);
    joined(&what, &[adjuster.kind.name(), &adjuster.note, &tool, sense])
}

fn work(procedure: &Procedure, step: &Step) -> Option<String> {
    match &step.work {
        Work::Fit(change) if change.out.is_empty() => Some(format!("Fit: {}", change.fitted)),
        Work::Fit(change) => Some(format!("Remove: {}. Fit: {}", change.out, change.fitted)),
        Work::Wire(lead) => {
            let wire = format!("From {} to {}", lead.from, lead.to);
            Some(joined(&wire, &[&lead.colour]))
        }
        Work::Socket(socket) => Some(format!("Measure the pins of {}", socket.name)),
        Work::Stop {
            confirm,
            reads: Some(_),
            ..
        } => Some(format!(
            "Hold point. A reading inside its target confirms: {confirm}"
        )),
        Work::Stop { confirm, .. } => Some(format!("Hold point. To be confirmed: {confirm}")),
        Work::Repeat(repeat) => {
            let number = |id: &_| procedure.number_of(id);
            // A step that is called by what it repeats says that once.
            Some(match step.title == repeat.title(number) {
                true => format!("Go on {}", repeat.end(DecimalSign::Point)),
                false => repeat.words(DecimalSign::Point, number),
            })
        }
        Work::Peak { .. } => Some("Peak".to_owned()),
        Work::Dip { .. } => Some("Null (minimum)".to_owned()),
        Work::Inspect | Work::Tick | Work::Read { .. } | Work::Set { .. } => None,
    }
}

/// Texts behind another one, the empty ones left out.
fn joined(first: &str, rest: &[&str]) -> String {
    let rest = rest.iter().copied().filter(|text| !text.is_empty());
    let all: Vec<&str> = std::iter::once(first).chain(rest).collect();
    all.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::{Gauge, Section, SetUp, TestPoint};

    #[test]
    fn a_step_is_read_in_the_order_in_which_the_hands_need_it() {
        let id = |text: &str| text.parse().unwrap();
        let set_up = |mode: &str| SetUp {
            mode: Some(mode.to_owned()),
            supply: Some("13.8 V".to_owned()),
            ..SetUp::default()
        };
        let gauge = Gauge::new(id("TP1"), id("counter"), "MHz".parse().unwrap());
        let work = Work::Read {
            gauge,
            target: None,
        };
        let first = Step {
            set_up: set_up("AM"),
            ..Step::new(id("a"), "First", Work::Tick)
        };
        let second = Step {
            set_up: set_up("USB"),
            text: "Let it settle.".to_owned(),
            cautions: vec!["The heat sink is hot".to_owned()],
            ..Step::new(id("b"), "Carrier", work)
        };
        let procedure = Procedure {
            test_points: vec![TestPoint {
                id: id("TP1"),
                place: "beside the crystal".to_owned(),
                also: Vec::new(),
            }],
            sections: vec![Section {
                title: String::new(),
                steps: vec![first, second.clone()],
            }],
            ..Procedure::new(id("p"), "p")
        };
        assert_eq!(
            spoken(&procedure, &second, Some("9 MHz ± 10 Hz".to_owned())),
            "Step 2. Carrier. Caution: The heat sink is hot. Mode: USB. Let it settle. \
             Test point TP1, beside the crystal, with the counter. Target: 9 MHz ± 10 Hz."
        );
    }
}
