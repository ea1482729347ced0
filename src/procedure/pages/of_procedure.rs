//! What of a procedure and its steps may be pinned, and the pictures that they name.

use crate::procedure::pages::paper::{Paper, PaperSpot};
use crate::procedure::pages::picture::{BoardPicture, PictureDigest, Spot};
use crate::procedure::{Procedure, Step, Work};
use std::collections::HashSet;

impl Step {
    /// What of it can be pinned in a paper: what the hands go to, and the socket.
    pub fn paper_spots(&self) -> Vec<PaperSpot> {
        let socket = match &self.work {
            Work::Socket(socket) => Some(PaperSpot::Socket(socket.name.clone())),
            _ => None,
        };
        let spots = self.spots().into_iter().map(PaperSpot::from);
        spots.chain(socket).collect()
    }
}

impl Procedure {
    /// Everything of it that has a place in a paper, test points first.
    pub fn paper_spots(&self) -> Vec<PaperSpot> {
        let points = self.test_points.iter().map(|it| it.id.clone());
        let adjusters = self.adjusters.iter().map(|it| it.id.clone());
        let sockets = self.steps().filter_map(|step| match &step.work {
            Work::Socket(socket) => Some(socket.name.clone()),
            _ => None,
        });
        let mut all: Vec<PaperSpot> = points
            .map(PaperSpot::TestPoint)
            .chain(adjusters.map(PaperSpot::Adjuster))
            .chain(sockets.map(PaperSpot::Socket))
            .collect();
        let mut seen = HashSet::new();
        all.retain(|spot| seen.insert(spot.clone()));
        all
    }

    /// Takes over the papers of another procedure.
    pub(in crate::procedure) fn take_papers(&mut self, papers: Vec<Paper>) {
        for paper in papers {
            match self.papers.iter_mut().find(|it| it.paper == paper.paper) {
                Some(known) => known.join(&paper),
                None => self.papers.push(paper),
            }
        }
    }
}

impl Step {
    /// What the hands go to: where it probes, its second route included, and what it turns.
    pub fn spots(&self) -> Vec<Spot> {
        let probed = self.work.gauge().map(|gauge| &gauge.at);
        let other = self.cross_check.as_ref().map(|check| &check.gauge.at);
        let mut spots: Vec<Spot> = probed
            .into_iter()
            .chain(other)
            .cloned()
            .map(Spot::TestPoint)
            .chain(self.work.adjuster().cloned().map(Spot::Adjuster))
            .collect();
        let mut seen = HashSet::new();
        spots.retain(|spot| seen.insert(spot.clone()));
        spots
    }
}

impl Procedure {
    /// The names of its pictures and papers.
    pub fn picture_names(&self) -> impl Iterator<Item = &PictureDigest> {
        let boards = self.pictures.iter().map(|board| &board.picture);
        boards.chain(self.papers.iter().map(|paper| &paper.paper))
    }

    /// The pictures on which something of a step is pinned, those with the most first.
    pub fn pictures_of(&self, step: &Step) -> Vec<&BoardPicture> {
        let spots = step.spots();
        let count = |picture: &BoardPicture| {
            let pinned = spots.iter().filter(|spot| picture.pin(spot).is_some());
            pinned.count()
        };
        let mut pictures: Vec<&BoardPicture> =
            self.pictures.iter().filter(|p| count(p) > 0).collect();
        pictures.sort_by_key(|picture| std::cmp::Reverse(count(picture)));
        pictures
    }

    /// Whether something is in the lists of the procedure.
    pub(in crate::procedure) fn has(&self, spot: &Spot) -> bool {
        match spot {
            Spot::TestPoint(id) => self.test_point(id).is_some(),
            Spot::Adjuster(id) => self.adjuster(id).is_some(),
        }
    }
}
