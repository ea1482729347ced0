//! The photos of the set, as found and as left, and the sounds that were kept with readings.

use crate::exchange::report::section::papers::beginning;
use crate::exchange::report::sheet::{Source, dated};
use crate::exchange::report::text::balanced;
use crate::exchange::report::{Cell, Part, Section, SheetPhoto, words};
use crate::job::{Moment, Photo, Sound};

/// All photos, those as found first.
pub fn section(source: &Source) -> Option<Section> {
    let of = |when: Moment| -> Option<Part> {
        let photos = source.progress.photos.iter().filter(|p| p.when == when);
        let photos: Vec<SheetPhoto> = photos.map(|photo| on_sheet(source, photo)).collect();
        (!photos.is_empty()).then_some(Part::Photos {
            heading: words::photo_heading(when),
            photos,
        })
    };
    let parts: Vec<Part> = Moment::ALL.into_iter().filter_map(of).collect();
    (!parts.is_empty()).then(|| Section {
        parts,
        ..Section::new(words::PHOTOS)
    })
}

fn on_sheet(source: &Source, photo: &Photo) -> SheetPhoto {
    let procedure = &source.progress.course.procedure;
    let step = photo.step.as_ref().and_then(|id| {
        let number = procedure.number_of(id)?;
        Some(words::step(number, &procedure.step(id)?.title))
    });
    SheetPhoto {
        address: (source.look.picture)(&photo.picture),
        alt: words::photo(photo.when, step.as_deref(), &photo.note),
        note: balanced(&photo.note),
        below: words::photo_place(step.as_deref(), &(source.look.when)(photo.at)),
    }
}

/// The sounds by the readings that they were kept with. They themselves stay with the job's file.
pub fn sounds(source: &Source) -> Option<Section> {
    let sounds = source.progress.sounds.iter();
    let rows = sounds.map(|sound| (sound_row(source, sound), sound.at));
    let columns = [words::STEP, words::READING, words::PAPER_DIGEST];
    Section::of_table(words::SOUNDS, dated(source, "plain", &columns, rows))
}

fn sound_row(source: &Source, sound: &Sound) -> Vec<Cell> {
    let procedure = &source.progress.course.procedure;
    let number = procedure.number_of(&sound.step).unwrap_or_default();
    let title = procedure.step(&sound.step).map_or("", |step| &step.title);
    let standing = source.progress.step(&sound.step);
    let reading = standing.and_then(|standing| {
        let mut counting = standing.readings.iter();
        counting.find(|taken| taken.event == sound.reading)
    });
    vec![
        Cell::of(words::step(number, title)),
        match reading {
            Some(taken) => Cell::of(taken.corrected.typeset(source.look.sign)),
            None => Cell::of(words::DOES_NOT_COUNT),
        },
        beginning(&sound.bytes),
    ]
}
