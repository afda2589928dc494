//! What is done in a formula, in the language's own words.

use crate::formula::Worked;
use crate::time::graph::Doing;

/// What fills a stretch, in the language's own words.
pub fn work_name(worked: &Worked, doing: &Doing) -> String {
    let stage_name = |stage: usize| worked.formula.stages[stage].name.shown.to_string();
    let step_word = |stage: Option<usize>, step: usize| {
        let method = match stage {
            Some(stage) => worked.formula.stages[stage].method.as_ref(),
            None => worked.formula.method.as_ref(),
        };
        let verb = method.and_then(|method| method.steps.get(step)).map(|step| step.verb);
        let word = verb.map_or("step", |verb| verb.word());
        match stage {
            Some(stage) => format!("{word} of {}", stage_name(stage)),
            None => word.to_owned(),
        }
    };
    match doing {
        Doing::Step { stage, step, phase: 0 } => step_word(*stage, *step),
        Doing::Step { stage, step, phase } => {
            format!("{}, phase {}", step_word(*stage, *step), phase + 1)
        }
        Doing::Moment { stage, step } => format!("hands-on in {}", step_word(*stage, *step)),
        Doing::Fold { stage, step, .. } | Doing::Folding { stage, step, .. } => {
            format!("fold in {}", step_word(*stage, *step))
        }
        Doing::Build { stage, .. } => format!("building {}", stage_name(*stage)),
        Doing::Ripen { stage, feed, leg } => {
            let declared = &worked.formula.stages[*stage];
            let word = if declared.ripens.is_empty() { "stands" } else { "ripens" };
            let mut name = format!("{} {word}", stage_name(*stage));
            if declared.feeds.is_some() {
                name.push_str(&format!(", feed {}", feed + 1));
            }
            if *leg > 0 {
                name.push_str(&format!(", then (leg {})", leg + 1));
            }
            name
        }
        Doing::Keep { stage, .. } => format!("{} keeps", stage_name(*stage)),
        Doing::Order => "in order".into(),
    }
}
