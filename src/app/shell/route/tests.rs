use super::*;

fn id(text: &str) -> Id {
    text.parse().unwrap()
}

#[test]
fn every_address_leads_back_to_its_screen() {
    for route in [
        Route::Jobs,
        Route::Scan,
        Route::OneReading,
        Route::ChangeStep {
            job: id("j-1"),
            step: id("own/1"),
        },
        Route::Loose(id("j-1")),
        Route::Start(None),
        Route::Start(Some("ab12".to_owned())),
        Route::Step {
            job: id("j1"),
            step: None,
        },
        Route::Step {
            job: id("j1"),
            step: Some(id("a/b ü%")),
        },
        Route::StepInstrument {
            job: id("j1"),
            step: id("a/b ü%"),
        },
        Route::BookIn,
        Route::AddStep(id("j1")),
        Route::Faults(id("j1")),
        Route::Trace(id("j1")),
        Route::Dealings(id("j1")),
        Route::ToOrder,
        Route::TakeOn {
            job: id("j1"),
            digest: None,
        },
        Route::TakeOn {
            job: id("j1"),
            digest: Some("ab12".to_owned()),
        },
        Route::Steps(id("j1")),
        Route::Details(id("j1")),
        Route::Finish(id("j1")),
        Route::Procedures,
        Route::Procedure("ab12".to_owned()),
        Route::ProcedureSheet("ab12".to_owned()),
        Route::Audio,
        Route::Sums,
        Route::Sum("level".to_owned()),
        Route::Channels,
        Route::Limits,
        Route::Kit,
        Route::Instrument(None),
        Route::Instrument(Some("new".to_owned())),
        Route::Plan(id("j1")),
        Route::Off(id("j1")),
        Route::Photos(id("j1")),
        Route::Papers(id("j1")),
        Route::Paper {
            job: id("j1"),
            paper: PictureDigest::of(b"a"),
            step: None,
        },
        Route::Paper {
            job: id("j1"),
            paper: PictureDigest::of(b"a"),
            step: Some(id("a/b ü%")),
        },
        Route::Changes {
            job: id("j1"),
            check: false,
        },
        Route::Changes {
            job: id("j1"),
            check: true,
        },
        Route::Substitution,
        Route::Report(id("j1")),
        Route::Label(id("j1")),
        Route::Set("QRC/07 ü".to_owned()),
        Route::Verify,
        Route::Data,
        Route::Settings,
        Route::Glossary,
        Route::Export,
    ] {
        assert_eq!(Route::read(&route.address()), route);
    }
}

#[test]
fn an_address_that_leads_nowhere_shows_the_jobs() {
    for hash in [
        "",
        "#",
        "#/",
        "#/nowhere",
        "#/job",
        "#/job/%zz",
        "#/job/x/y/z/%",
        "#/job/x/papers/abc",
    ] {
        assert_eq!(Route::read(hash), Route::Jobs, "{hash}");
    }
}
