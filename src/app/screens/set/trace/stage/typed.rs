//! A stage as it is typed.

use crate::app::words::set::trace as words;
use crate::authoring::draft::typed_tolerance;
use crate::job::{OwnFault, OwnField, typed_limit};
use crate::metrology::Tolerance;
use crate::metrology::inference::suspects::Reach;
use crate::procedure::{Chance, CheckPoint, Effort, Id, SignalPath, Stage};
use crate::quantity::{DecimalSign, Scale};
use serde::{Deserialize, Serialize};

/// What is typed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub(super) struct Typed {
    /// What is written, if anything is.
    pub(super) part: Option<Part>,
    /// The path that the form was filled in from.
    pub(super) was: Option<SignalPath>,
    /// The stage after which it stands; none where it is the first.
    pub(super) after: Option<Id>,
    pub(super) name: String,
    pub(super) chance: Chance,
    pub(super) checks: [TypedCheck; 3],
    /// The path as a whole, but for its stages.
    pub(super) whole: SignalPath,
}

/// What of a path is written.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(super) enum Part {
    /// A new stage.
    New,
    /// This stage.
    Stage(Id),
    /// Its name and the state of the set.
    Whole,
}

/// A place to look, as typed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub(super) struct TypedCheck {
    pub(super) what: String,
    pub(super) at: String,
    pub(super) expect: String,
    pub(super) scale: Option<Scale>,
    pub(super) limit: String,
    pub(super) effort: Effort,
}

/// What a place can show, in the order of the form.
pub(super) const REACHES: [Reach; 3] = [Reach::Through, Reach::Alone, Reach::Bias];

/// A path that says nothing yet.
pub fn blank_path() -> SignalPath {
    let stage = |number: usize| {
        let id: Id = format!("stage-{number}").parse().ok()?;
        Some(Stage {
            id,
            name: words::nth(number),
            chance: Chance::default(),
            checks: vec![CheckPoint {
                shows: Reach::Through,
                what: words::out_of_nth(number),
                at: String::new(),
                expect: String::new(),
                limit: None,
                effort: Effort::default(),
            }],
        })
    };
    SignalPath {
        title: words::OWN_PATH.to_owned(),
        stages: (1..=2).filter_map(stage).collect(),
        ..SignalPath::default()
    }
}

impl TypedCheck {
    pub(super) fn of(check: &CheckPoint, sign: DecimalSign) -> Self {
        let limit = check.limit.as_ref();
        TypedCheck {
            what: check.what.clone(),
            at: check.at.clone(),
            expect: check.expect.clone(),
            scale: limit.map(Tolerance::scale),
            limit: limit.map_or(String::new(), |limit| typed_tolerance(limit, sign)),
            effort: check.effort,
        }
    }

    /// The limit, as far as it can be read; `None` where there is none.
    pub(super) fn tolerance(&self, sign: DecimalSign) -> Result<Option<Tolerance>, OwnFault> {
        if self.limit.trim().is_empty() {
            return Ok(None);
        }
        let scale = self.scale.ok_or(OwnFault::Blank(OwnField::Scale))?;
        typed_limit(&self.limit, scale, sign).map(Some)
    }

    pub(super) fn is_blank(&self) -> bool {
        let texts = [&self.what, &self.at, &self.expect, &self.limit];
        texts.iter().all(|text| text.trim().is_empty())
    }

    pub(super) fn read(
        &self,
        shows: Reach,
        sign: DecimalSign,
    ) -> Result<Option<CheckPoint>, OwnFault> {
        if self.is_blank() {
            return Ok(None);
        }
        Ok(Some(CheckPoint {
            shows,
            what: self.what.trim().to_owned(),
            at: self.at.trim().to_owned(),
            expect: self.expect.trim().to_owned(),
            limit: self.tolerance(sign)?,
            effort: self.effort,
        }))
    }
}

impl Typed {
    pub(super) fn of_stage(path: &SignalPath, place: usize, sign: DecimalSign) -> Self {
        let Some(stage) = path.stages.get(place) else {
            return Typed::default();
        };
        let check = |shows: Reach| {
            let check = stage.checks.iter().find(|check| check.shows == shows);
            check.map_or(TypedCheck::default(), |check| TypedCheck::of(check, sign))
        };
        let before = place
            .checked_sub(1)
            .and_then(|before| path.stages.get(before));
        Typed {
            part: Some(Part::Stage(stage.id.clone())),
            was: Some(path.clone()),
            after: before.map(|stage| stage.id.clone()),
            name: stage.name.clone(),
            chance: stage.chance,
            checks: REACHES.map(check),
            whole: SignalPath::default(),
        }
    }

    /// The path with what was typed.
    pub(super) fn path(
        &self,
        path: &SignalPath,
        fresh: Id,
        sign: DecimalSign,
    ) -> Result<SignalPath, OwnFault> {
        let mut path = path.clone();
        let id = match &self.part {
            Some(Part::Stage(id)) => id.clone(),
            Some(Part::New) => fresh,
            Some(Part::Whole) | None => {
                let stages = std::mem::take(&mut path.stages);
                return Ok(SignalPath {
                    stages,
                    ..self.whole.clone()
                });
            }
        };
        let checks = REACHES.iter().zip(&self.checks);
        let checks = checks.map(|(shows, typed)| typed.read(*shows, sign));
        let checks: Result<Vec<_>, _> = checks.collect();
        let stage = Stage {
            id: id.clone(),
            name: self.name.trim().to_owned(),
            chance: self.chance,
            checks: checks?.into_iter().flatten().collect(),
        };
        path.stages.retain(|known| known.id != id);
        let mut stages = path.stages.iter();
        let before = stages.position(|known| Some(&known.id) == self.after.as_ref());
        path.stages
            .insert(before.map_or(0, |before| before + 1), stage);
        Ok(path)
    }
}
