//! Limits in columns of their own, and what stands beside them.

use crate::authoring::table::aim::{Aim, Cell, Side, ordered, read_aims};
use crate::authoring::table::columns::{Column, says};
use crate::authoring::table::lex::{Token, lex, plain};
use crate::authoring::table::meaning::Meaning;
use crate::authoring::table::phrases::{ENDS_OF_LIMITS, Sense};
use crate::authoring::table::row::{Measured, Reader};
use crate::authoring::table::why::Why;
use crate::metrology::Tolerance;
use crate::procedure::Setting;
use crate::quantity::Scale;
use bigdecimal::BigDecimal;
use num_traits::Zero;

impl<'a> Reader<'a> {
    /// Takes how far the target's column lets the nominal figure be off for what it is.
    pub(super) fn beside_its_nominal(
        &mut self,
        stated: &mut Vec<Measured>,
        index: usize,
        nominal: usize,
        unit: Option<Scale>,
    ) {
        let margin = self.said(Some(index));
        let starts = |sign: &&str| plain(margin).starts_with(*sign);
        let both = self.columns[index].side == Some(Side::Both);
        let off = both || ["±", "+/-", "+", "-"].iter().any(starts);
        let due = self.due(nominal, None, unit);
        let aims = match says(self.at(nominal)) && !margin.is_empty() {
            true => read_aims(
                self.at(nominal),
                &self.with_unit_of(Some(index), margin),
                due,
            ),
            false => return,
        };
        let around = |aim: &Aim| matches!(aim.tolerance, Some(Tolerance::Around { .. }));
        let [aim] = aims.as_slice() else {
            return;
        };
        if off && around(aim) && aim.unclear.is_none() {
            self.unclear.retain(|told| told.cell != margin);
            *stated = self.measure(nominal, aims, due.scale);
        } else if around(aim) && stated.iter().all(|one| one.aim.tolerance.is_none()) {
            // A bare figure beside it may be a limit, or how far it may be off.
            self.puzzle(index, Why::NoTarget);
        }
    }

    /// Tells of a target that states a limit beside a column of limits for the same reading.
    pub(super) fn tell_of_limits_of_the_same(
        &mut self,
        stated: &[Measured],
        limited: &[Measured],
        target: Option<usize>,
    ) {
        let states = |one: &Measured| one.aim.tolerance.is_some();
        let ([one], [limits], Some(index)) = (stated, limited, target) else {
            return;
        };
        let column = limits.column.map(|index| &self.columns[index]);
        let of_its_own = column.is_some_and(|column| !limit_name(column).is_empty());
        if states(one) && states(limits) && !of_its_own {
            self.puzzle(index, Why::TwoLimits);
        }
    }

    /// Whether the one figure of the target is what the limits beside it are the limits of.
    pub(super) fn are_limits_of(
        &mut self,
        stated: &[Measured],
        limited: &[Measured],
        index: usize,
    ) -> bool {
        let ([one], [limits]) = (stated, limited) else {
            return false;
        };
        let (Some(figure), None, None) = (&one.aim.nominal, &one.aim.tolerance, &one.aim.unclear)
        else {
            return false;
        };
        let (least, most) = match &limits.aim.tolerance {
            Some(Tolerance::Between { low, high }) => (Some(low), Some(high)),
            Some(Tolerance::AtLeast(low)) => (Some(low), None),
            Some(Tolerance::AtMost(high)) => (None, Some(high)),
            _ => return false,
        };
        if [least, most]
            .iter()
            .flatten()
            .any(|it| it.unit() != figure.unit())
        {
            return false;
        }
        let below = least.is_some_and(|low| figure.base() < low.base());
        let above = most.is_some_and(|high| figure.base() > high.base());
        if below || above {
            self.puzzle(index, Why::NominalOutside);
        }
        true
    }

    /// Limits in columns of their own, grouped by what their headings call the reading.
    pub(in crate::authoring::table::row) fn of_limits(
        &mut self,
        unit: Option<Scale>,
    ) -> Vec<Measured> {
        let is_limit =
            |column: &Column| matches!(column.meaning, Some(Meaning::Low | Meaning::High));
        let columns = self.columns;
        let mut names: Vec<&str> = Vec::new();
        for column in columns.iter().filter(|column| is_limit(column)) {
            let name = limit_name(column);
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let several = names.len() > 1;
        let mut all = Vec::new();
        for name in names {
            let mut ends: Vec<(usize, Aim)> = Vec::new();
            let mut due_scale = None;
            for (index, column) in columns.iter().enumerate() {
                if !is_limit(column) || limit_name(column) != name || !says(self.at(index)) {
                    continue;
                }
                let side = match column.meaning {
                    Some(Meaning::Low) => Side::Lower,
                    _ => Side::Upper,
                };
                // The other limit of the same reading may state the unit of both.
                let shared = columns
                    .iter()
                    .filter(|c| is_limit(c) && limit_name(c) == name && column.printed.is_none())
                    .find_map(|column| column.scale);
                let mut due = self.due(index, None, unit.or(shared));
                due.scale = due.scale.or_else(|| self.unit_of_other_limit(index, name));
                due.side = Some(side);
                due_scale = due.scale;
                let aims = read_aims(self.at(index), "", due);
                ends.extend(aims.into_iter().map(|aim| (index, aim)));
            }
            let Some(first) = ends.first().map(|(index, _)| *index) else {
                continue;
            };
            let aim = self.joined(ends);
            all.push(Measured {
                column: Some(first),
                name: if several {
                    name.to_owned()
                } else {
                    String::new()
                },
                set: Column::headed(name).set,
                due: due_scale,
                aim,
            });
        }
        all
    }

    /// The unit that the other limit of a reading states for both, as in `9.80` and `10.20 mW`;
    /// none where the figures are so far apart that one may be read in another.
    fn unit_of_other_limit(&self, index: usize, name: &str) -> Option<Scale> {
        let is_other = |other: &usize| {
            let column = &self.columns[*other];
            let limits = matches!(column.meaning, Some(Meaning::Low | Meaning::High));
            *other != index && limits && limit_name(column) == name
        };
        let other = (0..self.columns.len()).find(is_other)?;
        let aims = read_aims(self.at(other), "", self.due(other, None, None));
        let [aim] = aims.as_slice() else {
            return None;
        };
        let scale = aim.scale().filter(|_| aim.unclear.is_none())?;
        let figure = |at: usize| {
            let own = read_aims(self.at(at), "", self.due(at, None, Some(scale)));
            let found = own.first().and_then(|aim| aim.nominal.clone())?;
            Some(found.base().abs())
        };
        let (own, beside) = (figure(index)?, figure(other)?);
        let (less, more) = if own < beside {
            (own, beside)
        } else {
            (beside, own)
        };
        (less.is_zero() || more <= less * BigDecimal::from(10)).then_some(scale)
    }

    /// A lower and an upper limit as one aim.
    pub(in crate::authoring::table::row) fn joined(&mut self, ends: Vec<(usize, Aim)>) -> Aim {
        for (index, aim) in &ends {
            if aim.volts_unsaid {
                self.puzzle(*index, Why::WhichVolts);
            }
            if let Some((_, why)) = &aim.unclear {
                self.puzzle(*index, why.clone());
            } else if aim.usual {
                // What is usual limits nothing, or the limit is counted from it.
                self.puzzle(*index, Why::NoTarget);
            } else if aim.more || aim.tolerance.is_none() {
                self.keep(*index);
            }
        }
        let nominal = self.find(Meaning::Nominal);
        if let Some(index) = nominal {
            self.keep(index);
        }
        let aims: Vec<&Aim> = ends.iter().map(|(_, aim)| aim).collect();
        match aims.as_slice() {
            [one] => {
                let index = ends[0].0;
                if one.is_turned_round(self.hints(index)) {
                    self.puzzle(index, Why::TurnedRound);
                    return Aim::default();
                }
                if one.tolerance.is_some() && self.names_what_is_connected() {
                    self.puzzle(index, Why::SetUp);
                }
                Aim::clone(one)
            }
            [one, other] => {
                let both = match (&one.tolerance, &other.tolerance) {
                    (Some(Tolerance::AtLeast(low)), Some(Tolerance::AtMost(high)))
                    | (Some(Tolerance::AtMost(high)), Some(Tolerance::AtLeast(low))) => {
                        ordered(low.clone(), high.clone())
                    }
                    (None, None) => return Aim::clone(one),
                    _ => Aim {
                        unclear: Some((Cell::Target, Why::TwoLimits)),
                        ..Aim::default()
                    },
                };
                let both = self.beside_nominal(both, nominal);
                if let Some((_, why)) = &both.unclear {
                    for (index, _) in &ends {
                        self.puzzle(*index, why.clone());
                    }
                }
                both
            }
            _ => {
                for (index, _) in &ends {
                    self.puzzle(*index, Why::TwoLimits);
                }
                Aim::default()
            }
        }
    }

    /// Whether the title names a load or a supply and nothing that is read of it.
    fn names_what_is_connected(&self) -> bool {
        let title = self.cell(Meaning::Title);
        let connected = [Meaning::Set(Setting::Load), Meaning::Supply];
        connected.iter().any(|it| it.is_headed_by(title))
    }

    /// Limits beside a nominal figure that isn't between them may be counted from it.
    pub(in crate::authoring::table::row) fn beside_nominal(
        &self,
        aim: Aim,
        nominal: Option<usize>,
    ) -> Aim {
        let (Some(Tolerance::Between { low, high }), Some(index)) = (&aim.tolerance, nominal)
        else {
            return aim;
        };
        let due = self.due(index, None, Some(high.scale));
        let aims = read_aims(self.said(Some(index)), "", due);
        let figure = aims.first().and_then(|aim| aim.nominal.as_ref());
        match figure {
            Some(figure) if figure.base() < low.base() || figure.base() > high.base() => Aim {
                unclear: Some((Cell::Target, Why::NominalOutside)),
                ..Aim::default()
            },
            _ => aim,
        }
    }
}

/// Whether a note made a limit of the figure that it stands beside, and not one of its own.
pub(super) fn is_of_its_figure(aim: &Aim, note: &str) -> bool {
    let around = matches!(aim.tolerance, Some(Tolerance::Around { .. }));
    let word = aim.tolerance.is_some() && !note.contains(|c: char| c.is_ascii_digit());
    aim.unclear.is_none() && (around || word)
}

/// Whether a note has a limit in it, or is the word for one.
pub(super) fn limits(note: &str) -> bool {
    use Sense::{AtLeast, AtMost, Better, Max, Min, OrLess, OrMore, PlusMinus};
    let note = plain(note);
    let tokens = lex(&note).tokens;
    let word = |token: &Token| matches!(token, Token::Sense(Better | Max | Min | OrLess | OrMore));
    let stated = tokens.windows(2).any(|pair| {
        let sided = matches!(pair[0], Token::Sense(AtLeast | AtMost | Better | PlusMinus));
        sided && matches!(pair[1], Token::Figure(_))
    });
    stated || (!tokens.is_empty() && tokens.iter().all(word))
}

/// What a heading of limits calls the reading, without the words that only tell one limit from the
/// other.
pub(in crate::authoring::table) fn limit_name(column: &Column) -> &str {
    let headings = |meaning: Meaning| meaning.headings().contains(&column.name.as_str());
    if headings(Meaning::Low) || headings(Meaning::High) {
        return "";
    }
    let name = column.name.as_str();
    let cut = |word: &&str| {
        let rest = name.strip_suffix(*word).map(str::trim_end);
        let first = || name.strip_prefix(*word).map(str::trim_start);
        let whole = |rest: &&str| rest.is_empty() || rest.len() + word.len() < name.len();
        rest.filter(whole).or_else(|| first().filter(whole))
    };
    // Someone said what they are: the heading alone leaves open what is low.
    ENDS_OF_LIMITS.iter().find_map(cut).unwrap_or(name)
}

/// Whether a cell names something and states nothing.
pub(in crate::authoring::table) fn is_name(cell: &str) -> bool {
    let cell = plain(cell);
    let tokens = lex(&cell).tokens;
    let states = |token: &Token| {
        use Sense::{About, Count, Dip, Max, Min, Peak};
        match token {
            Token::Figure(_) | Token::Range(..) | Token::Lost => true,
            Token::Sense(sense) => matches!(sense, About | Count | Dip | Max | Min | Peak),
            Token::Word => false,
        }
    };
    tokens.contains(&Token::Word) && !tokens.iter().any(states)
}
