//! The parts of the program that are fetched when one of their screens is first asked for. Jobs and
//! their steps are in what a start brings along. All parts are kept on the device together.

use crate::app::shell::route::Route;
use std::cell::RefCell;
use std::future::Future;
use std::pin::Pin;

/// A part of the program.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// What a set and a job have beside their steps: papers, instruments, files, the report.
    Desk,
    /// Procedures as they are read and written.
    Writing,
    /// Calculations and tables.
    Lookup,
    /// The sound input and output.
    Sound,
}

/// What fetches a part, and says in the end whether it is here.
pub type Bringing = Pin<Box<dyn Future<Output = bool>>>;

thread_local! {
    static HERE: RefCell<Vec<Part>> = const { RefCell::new(Vec::new()) };
}

impl Part {
    /// The part that a screen is in; none where a start brings it along.
    pub fn of(route: &Route) -> Option<Part> {
        match route {
            Route::Jobs | Route::Step { .. } | Route::Steps(_) => None,
            Route::Procedures | Route::Procedure(_) | Route::ProcedureSheet(_) => {
                Some(Part::Writing)
            }
            Route::Author(_) => Some(Part::Writing),
            Route::Sums | Route::Sum(_) | Route::Channels | Route::Limits => Some(Part::Lookup),
            Route::Glossary | Route::Substitution => Some(Part::Lookup),
            Route::Audio => Some(Part::Sound),
            _ => Some(Part::Desk),
        }
    }

    /// Whether it was fetched.
    pub fn is_here(self) -> bool {
        HERE.with_borrow(|here| here.contains(&self))
    }

    /// Fetches it, if it is not here, and says whether it is then.
    pub async fn here_by(self, bring: fn(Part) -> Bringing) -> bool {
        let is_here = self.is_here() || bring(self).await;
        if is_here && !self.is_here() {
            HERE.with_borrow_mut(|here| here.push(self));
        }
        is_here
    }
}
