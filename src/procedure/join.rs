//! Procedures that one job is worked by, as one: the steps of all of them, each under a name that
//! no other has. A designator names one thing on the board of the set, whichever procedure it is in.

use super::{
    Adjuster, Id, Instrument, Procedure, Section, Step, Target, TestPoint, Work, digest_of,
};

/// The most steps of all procedures of a job together: many times what a bench works through.
pub const MAX_STEPS: usize = 2_000;

/// Why a procedure can't be worked in a job together with what is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JoinFault {
    /// It has no steps.
    Empty,
    /// It is there already, perhaps in another revision.
    Twice,
    /// Its frequency plan is another one, so its oscillators would be judged by the wrong one.
    OtherPlan,
    /// Its channels are others.
    OtherChannels,
    /// There would be more steps than [`MAX_STEPS`].
    TooMany,
}

/// The name of a step of a procedure that was taken on: the procedure's before its own, or where
/// that is too long for a name, a digest of both.
pub fn joined(procedure: &Id, step: &Id) -> Id {
    let whole = format!("{procedure}/{step}");
    let short = || digest_of(whole.as_bytes()).parse();
    let name = whole.parse().or_else(|_| short());
    name.unwrap_or_else(|_| step.clone())
}

impl Procedure {
    /// A procedure for a job that is worked by none yet.
    pub fn none() -> Self {
        let id = NONE.parse();
        let id = id.unwrap_or_else(|_| unreachable!("it is a sound id"));
        let mut none = Procedure::new(id, "Without a procedure");
        none.begin_section();
        none
    }

    /// Whether it stands for none.
    pub fn is_none(&self) -> bool {
        self.id.as_str() == NONE && self.steps().next().is_none()
    }

    /// Whether another can be worked together with this one.
    pub fn can_take_on(&self, other: &Procedure) -> Result<(), JoinFault> {
        let count = other.steps().count();
        let differs = |one: bool, other: bool, same: bool| one && other && !same;
        if count == 0 {
            return Err(JoinFault::Empty);
        }
        let is_here = |step: &Step| self.step(&joined(&other.id, &step.id)).is_some();
        if self.id == other.id || other.steps().any(is_here) {
            return Err(JoinFault::Twice);
        }
        if self.steps().count() + count > MAX_STEPS {
            return Err(JoinFault::TooMany);
        }
        if differs(
            self.plan.is_some(),
            other.plan.is_some(),
            self.plan == other.plan,
        ) {
            return Err(JoinFault::OtherPlan);
        }
        let same = self.channels == other.channels;
        match differs(self.channels.is_some(), other.channels.is_some(), same) {
            true => Err(JoinFault::OtherChannels),
            false => Ok(()),
        }
    }

    /// Adds all of another behind what is here.
    pub fn take_on(&mut self, other: &Procedure) {
        let mut other = other.clone();
        let own = other.id.clone();
        let by_numbers = other.called_by_numbers();
        other.rename_steps(|step| joined(&own, step));
        for caution in other.cautions {
            if !self.cautions.contains(&caution) {
                self.cautions.push(caution);
            }
        }
        for adjuster in other.adjusters {
            self.take_adjuster(adjuster);
        }
        for point in other.test_points {
            self.take_point(point);
        }
        for instrument in other.instruments {
            self.take_role(instrument);
        }
        for picture in other.pictures {
            match self
                .pictures
                .iter_mut()
                .find(|it| it.picture == picture.picture)
            {
                Some(known) => {
                    let new = picture
                        .pins
                        .into_iter()
                        .filter(|pin| !known.pins.contains(pin));
                    let new: Vec<_> = new.collect();
                    known.pins.extend(new);
                }
                None => self.pictures.push(picture),
            }
        }
        self.take_papers(other.papers);
        self.plan = self.plan.take().or(other.plan);
        self.channels = self.channels.take().or(other.channels);
        self.chases.extend(other.chases);
        self.tables.extend(other.tables);
        self.sections.extend(other.sections);
        for name in by_numbers {
            self.call_by_numbers(&joined(&own, &name));
        }
    }

    /// What a step that repeats others is called by their numbers.
    fn title_by_numbers(&self, step: &Step) -> Option<String> {
        match &step.work {
            Work::Repeat(repeat) => Some(repeat.title(|id| self.number_of(id))),
            _ => None,
        }
    }

    /// The steps that are called so.
    fn called_by_numbers(&self) -> Vec<Id> {
        let is_one = |step: &&Step| self.title_by_numbers(step).as_ref() == Some(&step.title);
        self.steps()
            .filter(is_one)
            .map(|step| step.id.clone())
            .collect()
    }

    /// Calls such a step by the numbers that they have here.
    fn call_by_numbers(&mut self, name: &Id) {
        let step = self.step(name);
        let title = step.and_then(|step| self.title_by_numbers(step));
        let mut steps = self.sections.iter_mut().flat_map(|it| &mut it.steps);
        if let Some((step, title)) = steps.find(|step| step.id == *name).zip(title) {
            step.title = title;
        }
    }

    /// Begins a section without a title, for steps that no procedure has.
    pub fn begin_section(&mut self) {
        self.sections.push(Section {
            title: String::new(),
            steps: Vec::new(),
        });
    }

    /// Adds one step to the last section, with what has to be known for it.
    pub fn take_step(&mut self, step: Step, point: Option<TestPoint>, role: Option<Instrument>) {
        if let Some(point) = point {
            self.take_point(point);
        }
        if let Some(role) = role {
            self.take_role(role);
        }
        if self.sections.is_empty() {
            self.begin_section();
        }
        if let Some(last) = self.sections.last_mut() {
            last.steps.push(step);
        }
    }

    /// Puts another step in the place of the one of its name.
    pub fn change_step(&mut self, step: Step, point: Option<TestPoint>, role: Option<Instrument>) {
        point.into_iter().for_each(|point| self.take_point(point));
        role.into_iter().for_each(|role| self.take_role(role));
        let mut steps = self.sections.iter_mut().flat_map(|it| &mut it.steps);
        if let Some(known) = steps.find(|known| known.id == step.id) {
            *known = step;
        }
    }

    fn take_adjuster(&mut self, adjuster: Adjuster) {
        match self.adjusters.iter_mut().find(|it| it.id == adjuster.id) {
            Some(known) => known.disturbs.extend(adjuster.disturbs),
            None => self.adjusters.push(adjuster),
        }
    }

    /// What two procedures say of one place both stands.
    fn take_point(&mut self, point: TestPoint) {
        let Some(known) = self.test_points.iter_mut().find(|it| it.id == point.id) else {
            self.test_points.push(point);
            return;
        };
        known.place = both(&known.place, &point.place);
        for name in point.also {
            if !known.also.contains(&name) {
                known.also.push(name);
            }
        }
    }

    fn take_role(&mut self, role: Instrument) {
        match self.instruments.iter_mut().find(|it| it.role == role.role) {
            Some(known) => known.needs = both(&known.needs, &role.needs),
            None => self.instruments.push(role),
        }
    }

    /// Gives the steps other names, wherever one is named.
    fn rename_steps(&mut self, name: impl Fn(&Id) -> Id) {
        let change = |id: &mut Id| *id = name(id);
        let steps = self.sections.iter_mut().flat_map(|it| &mut it.steps);
        for step in steps {
            step.names_of_steps().for_each(change);
        }
        let adjusters = self.adjusters.iter_mut();
        adjusters.flat_map(|it| &mut it.disturbs).for_each(change);
        let chases = self.chases.iter_mut();
        chases.flat_map(|it| &mut it.steps).for_each(change);
        for table in &mut self.tables {
            change(&mut table.id);
            let cells = table.cells.iter_mut().flatten().flatten();
            cells.for_each(change);
        }
    }
}

/// The name of the procedure that stands for none.
const NONE: &str = "~none";

/// Two texts on one thing, said once where they are the same.
fn both(one: &str, other: &str) -> String {
    match (one.trim(), other.trim()) {
        (one, "") => one.to_owned(),
        ("", other) => other.to_owned(),
        (one, other) if one.split("; ").any(|part| part == other) => one.to_owned(),
        (one, other) => format!("{one}; {other}"),
    }
}

impl Step {
    /// Its own name and those by which it refers to other steps.
    fn names_of_steps(&mut self) -> impl Iterator<Item = &mut Id> {
        let (ends, target) = match &mut self.work {
            Work::Repeat(repeat) => (vec![&mut repeat.from, &mut repeat.to], None),
            Work::Set { target, .. } => (Vec::new(), Some(target)),
            Work::Read { target, .. } => (Vec::new(), target.as_mut()),
            Work::Peak { bound, .. } | Work::Dip { bound, .. } => (Vec::new(), bound.as_mut()),
            Work::Stop { reads, .. } => (Vec::new(), reads.as_mut().map(|it| &mut it.target)),
            Work::Inspect | Work::Tick | Work::Fit(_) | Work::Wire(_) | Work::Socket(_) => {
                (Vec::new(), None)
            }
        };
        let leans_on = target.and_then(|target| match target {
            Target::Relative { to, .. } => Some(to),
            Target::Limit { power, .. } => power.as_mut(),
            Target::Fixed(_) | Target::Oscillator { .. } | Target::Channel { .. } => None,
        });
        [&mut self.id]
            .into_iter()
            .chain(&mut self.needs)
            .chain(&mut self.shares_null_with)
            .chain(ends)
            .chain(leans_on)
    }
}
