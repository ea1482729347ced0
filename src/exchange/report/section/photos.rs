//! The photos of the set: as found and as left.

use crate::exchange::report::sheet::Source;
use crate::exchange::report::text::balanced;
use crate::exchange::report::{Part, Section, SheetPhoto, words};
use crate::job::{Moment, Photo};

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
