//! Every step of every derivation is true arithmetic, down to what is written.

use crate::support::{dough_files, from_disk, top};
use assize::desk;
use assize::formula::{Figure, How, Kind, Reason, all_mixes, work};
use assize::quantity::Exact;
use assize::syntax::read_ask;
use assize::time;

/// The first step that does not add up, in words.
fn untrue(reason: &Reason) -> Option<String> {
    let amounts: Vec<&Exact> = reason.parts.iter().map(|part| &part.amount).collect();
    let comes_to = match (&reason.how, amounts.as_slice()) {
        (How::Sum, all) => all.iter().fold(Exact::ZERO, |sum, part| sum + *part),
        (How::Product, all) => all.iter().fold(Exact::ONE, |product, part| product * *part),
        (How::Ratio, [above, below]) => *above / *below,
        (How::Difference, [whole, taken @ ..]) if !taken.is_empty() => {
            taken.iter().fold((*whole).clone(), |left, taken| left - *taken)
        }
        (How::Written | How::Default(_) | How::Words(_), []) => reason.amount.clone(),
        (how, parts) => return Some(format!("`{}`: {how:?} of {}", reason.what, parts.len())),
    };
    if comes_to != reason.amount {
        return Some(format!(
            "`{}` is {}, its parts come to {comes_to}",
            reason.what, reason.amount
        ));
    }
    reason.parts.iter().find_map(untrue)
}

#[test]
fn every_derivation_adds_up_to_what_is_shown() {
    let mut wrong = String::new();
    let mut trees = 0;
    let mut times = 0;
    let mut files: Vec<_> = ["tests/breads", "tests/combinations", "tests/published"]
        .into_iter()
        .flat_map(dough_files)
        .collect();
    files.push(top().join("examples/gullhaven"));
    for path in files {
        let loaded = from_disk(&path);
        for room in &desk::rooms(&loaded) {
            for formula in room.files.iter().flat_map(|file| &file.tree.formulas) {
                let worked = work(&room.house, formula, &mut Vec::new());
                if !worked.sound {
                    continue;
                }
                if let Some(graph) = time::graph(&room.house, &worked) {
                    let elapsed = time::why_elapsed(&worked, &graph);
                    let told = [time::elapsed(&graph), time::hands_on(&graph)];
                    let reasons = [elapsed, time::why_hands_on(&worked, &graph)];
                    for (length, reasons) in told.iter().zip(&reasons) {
                        let ends = [Some(&length.low), length.high.as_ref()];
                        for (reason, end) in reasons.iter().zip(ends) {
                            let off = untrue(reason);
                            assert_eq!((off, Some(&reason.amount)), (None, end), "{}", reason.what);
                            times += 1;
                        }
                    }
                }
                let stages = worked.formula.stages.iter().map(|stage| stage.name.key.as_str());
                let mut places = vec!["", " in final dough", " in pieces"];
                let in_stages: Vec<String> = stages.map(|stage| format!(" in {stage}")).collect();
                places.extend(in_stages.iter().map(String::as_str));
                let mut asked: Vec<String> = Figure::names().map(str::to_owned).collect();
                asked.extend(all_mixes(&worked.formula).flat_map(|mix| &mix.lines).map(|line| {
                    let role = line.target.role.as_ref();
                    let role = role.map(|role| format!(" ({})", role.shown)).unwrap_or_default();
                    format!("{}{role}", line.target.name.key)
                }));
                for (what, place) in
                    asked.iter().flat_map(|what| places.iter().map(move |place| (what, place)))
                {
                    let words = format!("{what}{place}");
                    let Some((target, place)) = read_ask(&words) else { continue };
                    let told = worked.ask(&room.house, &target, place.as_ref());
                    let told = told.and_then(|values| values.first().cloned());
                    let reason = worked.why(&room.house, &target, place.as_ref());
                    let off = match (&told, &reason) {
                        (Some(told), Some(reason)) if told.amount != reason.amount => {
                            Some(format!("is {}, the tree says {}", told.amount, reason.amount))
                        }
                        (Some(_), Some(reason)) => untrue(reason),
                        (Some(_), None) => Some("has a value and no reason".into()),
                        (None, Some(_)) => Some("has a reason and no value".into()),
                        (None, None) => continue,
                    };
                    trees += 1;
                    let percent = worked.why_percent(&room.house, &target, place.as_ref());
                    let is_mass = reason.is_some_and(|reason| reason.kind == Kind::Mass);
                    let off =
                        off.or_else(|| percent.filter(|_| is_mass).and_then(|it| untrue(&it)));
                    if let Some(off) = off {
                        wrong.push_str(&format!("{} {words}: {off}\n", formula.name.shown));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
    assert!(trees > 5000, "{trees}");
    assert!(times > 100, "{times}");
}
