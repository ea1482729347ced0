//! The procedures that are to be chosen from.

use super::Procedure;

/// A procedure in a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// The procedure.
    pub procedure: Procedure,
    /// The beginning of its digest, where another of the same name and revision is here that
    /// differs: nothing else tells them apart in a list.
    pub mark: Option<String>,
}

/// How many letters of a digest tell procedures apart.
const MARK: usize = 8;

/// The latest revision of each procedure; all of them where several differ under one name and
/// revision, as a file may have brought them.
pub fn latest(procedures: Vec<Procedure>) -> Vec<Listed> {
    let mut latest: Vec<Procedure> = Vec::new();
    for procedure in procedures {
        let kin = |kept: &Procedure| kept.id == procedure.id;
        if latest
            .iter()
            .any(|kept| kin(kept) && kept.revision > procedure.revision)
        {
            continue;
        }
        latest.retain(|kept| !kin(kept) || kept.revision == procedure.revision);
        latest.push(procedure);
    }
    let is_twin = |one: &Procedure| latest.iter().filter(|other| other.id == one.id).count() > 1;
    let marks: Vec<Option<String>> = latest
        .iter()
        .map(|one| is_twin(one).then(|| one.digest().chars().take(MARK).collect()))
        .collect();
    let listed = latest.into_iter().zip(marks);
    listed
        .map(|(procedure, mark)| Listed { procedure, mark })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn procedure(id: &str, revision: u32, title: &str) -> Procedure {
        Procedure {
            revision,
            ..Procedure::new(id.parse().unwrap(), title)
        }
    }

    #[test]
    fn the_latest_revision_is_listed_and_what_shares_its_name_is_told_apart() {
        let all = vec![
            procedure("a", 1, "A"),
            procedure("a", 2, "A"),
            procedure("a", 2, "A, other limits"),
            procedure("a", 1, "A again"),
            procedure("b", 7, "B"),
        ];
        let listed = latest(all);
        let titles: Vec<&str> = listed
            .iter()
            .map(|it| it.procedure.title.as_str())
            .collect();
        assert_eq!(titles, ["A", "A, other limits", "B"]);
        let marks: Vec<Option<&str>> = listed.iter().map(|it| it.mark.as_deref()).collect();
        assert!(marks[0].is_some() && marks[1].is_some() && marks[0] != marks[1]);
        assert_eq!(marks[2], None);
    }
}
