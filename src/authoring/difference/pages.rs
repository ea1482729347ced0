//! What differs in pictures and papers.

use crate::authoring::difference::said::{Difference, changed};
use crate::procedure::{BoardPicture, Paper, Procedure, WHOLE};

/// Which pictures came and went, and on which pins were set, moved or taken off.
pub(super) fn pictures(was: &Procedure, is: &Procedure) -> Vec<Difference> {
    let same = |a: &BoardPicture, b: &BoardPicture| a.picture == b.picture;
    let say = |picture: &BoardPicture, what: &str| Difference {
        what: format!("Board picture “{}” {what}", picture.title),
        was: None,
        is: None,
    };
    let mut found = Vec::new();
    for picture in &is.pictures {
        let Some(old) = was.pictures.iter().find(|old| same(old, picture)) else {
            found.push(say(picture, "added"));
            continue;
        };
        found.extend(changed(
            "Title of a board picture".to_owned(),
            old.title.clone(),
            picture.title.clone(),
        ));
        found.extend(changed(
            format!("Pins on board picture “{}”", picture.title),
            moved_pins(old, picture),
            moved_pins(picture, old),
        ));
    }
    let gone = was
        .pictures
        .iter()
        .filter(|old| !is.pictures.iter().any(|picture| same(old, picture)));
    found.extend(gone.map(|picture| say(picture, "removed")));
    found
}

/// The pins of a picture that the other does not have in the same place, in a line.
fn moved_pins(picture: &BoardPicture, other: &BoardPicture) -> String {
    let percent = |share: u16| f64::from(share) / f64::from(WHOLE) * 100.0;
    let pins = picture.pins.iter().filter(|pin| !other.pins.contains(pin));
    let words = pins.map(|pin| {
        let (x, y) = (percent(pin.x), percent(pin.y));
        format!("{} at {x:.0} % across, {y:.0} % down", pin.of.id())
    });
    words.collect::<Vec<_>>().join("; ")
}

/// Which papers came and went, and in which pins were set, moved or taken off.
pub(super) fn papers(was: &Procedure, is: &Procedure) -> Vec<Difference> {
    let say = |paper: &Paper, what: &str| Difference {
        what: format!("Paper “{}” {what}", paper.title),
        was: None,
        is: None,
    };
    let mut found = Vec::new();
    for paper in &is.papers {
        let Some(old) = was.papers.iter().find(|old| old.paper == paper.paper) else {
            found.push(say(paper, "added"));
            continue;
        };
        let (was, is) = (old.title.clone(), paper.title.clone());
        found.extend(changed("Name of a paper".to_owned(), was, is));
        found.extend(changed(
            format!("Pins in paper “{}”", paper.title),
            moved_paper_pins(old, paper),
            moved_paper_pins(paper, old),
        ));
    }
    let is_here = |old: &Paper| is.papers.iter().any(|paper| old.paper == paper.paper);
    let gone = was.papers.iter().filter(|old| !is_here(old));
    found.extend(gone.map(|paper| say(paper, "removed")));
    found
}

/// The pins in a paper that the other does not have in the same place, in a line.
fn moved_paper_pins(paper: &Paper, other: &Paper) -> String {
    let percent = |share: u16| f64::from(share) / f64::from(WHOLE) * 100.0;
    let pins = paper.pins.iter().filter(|pin| !other.pins.contains(pin));
    let words = pins.map(|pin| {
        let (x, y) = (percent(pin.x), percent(pin.y));
        let (name, page) = (pin.of.name(), pin.page);
        format!("{name} on page {page} at {x:.0} % across, {y:.0} % down")
    });
    words.collect::<Vec<_>>().join("; ")
}
