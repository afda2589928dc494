//! Lists of a tree that take no more room than what is in them.
//!
//! A list grows in steps, so that it is never longer than needed while it is read; all trees
//! of a run stand until its end, where that room would be most of their memory.

use crate::syntax::tree::{Formula, Line, Method, Mix, NotedText, Phase, Stage, Step, Text, Tree};

/// Lets go of the room that the lists of a tree have for more.
pub fn tighten(tree: &mut Tree) {
    tree.formulas.iter_mut().for_each(formula);
    tree.stages.iter_mut().for_each(stage);
    tree.formulas.shrink_to_fit();
    tree.stages.shrink_to_fit();
    for mixture in &mut tree.mixtures {
        mix(&mut mixture.mix);
        texts(&mut mixture.texts);
    }
    tree.mixtures.shrink_to_fit();
    for ingredient in &mut tree.ingredients {
        ingredient.properties.shrink_to_fit();
        ingredient.also.shrink_to_fit();
        ingredient.called.shrink_to_fit();
        texts(&mut ingredient.texts);
    }
    tree.ingredients.shrink_to_fit();
}

fn formula(formula: &mut Formula) {
    formula.title.iter_mut().for_each(text);
    formula.makes.iter_mut().for_each(|makes| makes.pieces.shrink_to_fit());
    formula.total.iter_mut().chain(&mut formula.dough).for_each(mix);
    formula.stages.iter_mut().for_each(stage);
    formula.stages.shrink_to_fit();
    for mixture in &mut formula.mixtures {
        mix(&mut mixture.mix);
        texts(&mut mixture.texts);
    }
    formula.mixtures.shrink_to_fit();
    formula.pieces.iter_mut().for_each(|piece| mix(&mut piece.mix));
    formula.pieces.shrink_to_fit();
    formula.method.iter_mut().for_each(method);
    formula.expect.shrink_to_fit();
    formula.allow.shrink_to_fit();
    texts(&mut formula.texts);
    formula.without.shrink_to_fit();
}

fn stage(stage: &mut Stage) {
    stage.sizes.shrink_to_fit();
    mix(&mut stage.mix);
    stage.ripens.shrink_to_fit();
    stage.keeps.shrink_to_fit();
    stage.stands.shrink_to_fit();
    stage.at_least.shrink_to_fit();
    stage.save.shrink_to_fit();
    stage.method.iter_mut().for_each(method);
    texts(&mut stage.texts);
    stage.allow.shrink_to_fit();
}

fn mix(mix: &mut Mix) {
    mix.lines.iter_mut().for_each(line);
    mix.lines.shrink_to_fit();
    mix.without.shrink_to_fit();
    mix.counts_as_flour.shrink_to_fit();
    mix.save.shrink_to_fit();
}

fn line(line: &mut Line) {
    line.note.iter_mut().for_each(text);
}

fn method(method: &mut Method) {
    method.steps.iter_mut().for_each(step);
    method.steps.shrink_to_fit();
}

fn step(step: &mut Step) {
    step.text.iter_mut().for_each(text);
    step.phases.iter_mut().for_each(phase);
    step.phases.shrink_to_fit();
    step.notes.iter_mut().chain(&mut step.cautions).for_each(text);
    step.notes.shrink_to_fit();
    step.cautions.shrink_to_fit();
    step.allow.shrink_to_fit();
}

fn phase(phase: &mut Phase) {
    phase.with.shrink_to_fit();
    phase.until.shrink_to_fit();
    phase.flags.shrink_to_fit();
}

fn texts(texts: &mut Vec<NotedText>) {
    for words in &mut *texts {
        text(&mut words.text);
        words.allow.shrink_to_fit();
    }
    texts.shrink_to_fit();
}

fn text(text: &mut Text) {
    text.parts.shrink_to_fit();
}

#[cfg(test)]
mod tests {
    use super::super::read;
    use crate::source::SourceId;

    /// Steps are the most of a formula, and most of them have one phase.
    #[test]
    fn what_is_read_holds_no_room_for_more() {
        let text = "formula pier-loaf \"Pier Loaf\" {\n  makes 1 loaf at 900 g\n  total { bread \
                    flour 100%; water 70%; salt 2% }\n  method { mix 5min with everything; bulk \
                    3h covered; bake 40min at 230C note \"On the stone.\" }\n}\n";
        let (tree, findings) = read(SourceId::ASKED, text);
        assert!(findings.is_empty(), "{findings:?}");
        let formula = &tree.formulas[0];
        assert_eq!(tree.formulas.capacity(), 1);
        assert_eq!(formula.total.as_ref().map(|mix| mix.lines.capacity()), Some(3));
        let steps = formula.method.as_ref().map(|method| &method.steps).expect("a method");
        assert_eq!(steps.capacity(), 3);
        assert!(steps.iter().all(|step| step.phases.capacity() == 1));
        assert_eq!((steps[2].notes.capacity(), steps[2].notes[0].parts.capacity()), (1, 1));
    }
}
