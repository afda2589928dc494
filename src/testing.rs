//! What tests and benches take from the rooms; nothing else is to use it, and it may change
//! with any of them.
//!
//! All that is named here, and every method of a type that is, counts as used to the compiler.
//! So the rooms are also compiled without it (`--cfg closed`, in `.ci/run`): what only tests
//! use is told then.

/// Exact numbers and how they are shown.
pub mod quantity {
    pub use crate::quantity::{Exact, System, Unit, Units, int, ratio, read_number};

    /// Numbers as people read them.
    pub mod display {
        pub use crate::quantity::display::{
            Scale, ScaleStep, decimal, fixed, minutes, read_exact, to_step, trimmed,
        };
    }
}

/// Texts and places in them.
pub mod source {
    pub use crate::source::{SourceId, Span, is_blank, is_unseen};
}

/// Findings and their forms.
pub mod diag {
    pub use crate::diag::{Finding, Group, Level, narrate, render, repaired};

    /// Findings for other programs.
    pub mod machine {
        pub use crate::diag::machine::{annotations, json_form, sarif, schema, short};
    }
}

/// From text to trees.
pub mod syntax {
    pub use crate::syntax::{
        Item, Untouched, format, is_reworded_alike, outline, read, read_ask, read_hours,
        read_makes, says_alike, verbs_read, words,
    };

    /// Texts with formulas in between.
    pub mod manuscript {
        pub use crate::syntax::manuscript::{blocks, doubtful, rewrite};
    }

    /// What booklets are made of.
    pub mod booklet {
        pub use crate::syntax::booklet::{Booklet, BookletItem, PartKind};
    }

    /// What trees are made of.
    pub mod tree {
        pub use crate::syntax::tree::{
            Amount, ClaimValue, Date, Extent, Flag, Formula, Line, Open, Phase, Quantity, Size,
            Step, Tree, Verb, Weekdays,
        };
    }
}

/// Recipes that exist in other forms.
pub mod bring {
    pub use crate::bring::{Options, Recipe, WrittenFormula, recipes, write};
}

/// Each packed file by its path, and what it has to be.
pub fn packed() -> [(&'static str, Vec<u8>); 7] {
    [
        ("src/formula/stores/drawers.packed", crate::formula::packed_stores()),
        ("src/formula/stores/allergens.packed", crate::formula::packed_allergens()),
        ("src/formula/stores/names.packed", crate::formula::packed_names()),
        ("src/formula/stores/called.packed", crate::formula::packed_spoken()),
        ("src/formula/stores/catalogues.packed", crate::formula::packed_called()),
        ("src/check/speech/words.packed", crate::check::speech::packed()),
        ("src/check/denials/spotter.packed", crate::check::denials::packed()),
    ]
}

/// Formulas worked out.
pub mod formula {
    pub use crate::formula::{
        Absence, Allergen, Composition, Figure, Ground, House, How, Judged, LANGUAGES, LineRef,
        Numbers, Proof, Reason, STORES, Steers, Subject, Substance, Value, ValueKind, Within,
        Worked, WorkedLine, absence, all_mixes, beyond_water, built_in, entry_at, from_measured,
        ice_share, is_kind, key, limit, tell, told_by_name, warmth, work, work_as,
    };

    /// Kinds of ingredients and what they contain.
    pub mod class {
        pub use crate::formula::class::{Class, Nutrient};
    }

    /// Amounts as a scale shows them.
    pub mod weighing {
        pub use crate::formula::weighing::column;
    }
}

/// Methods, plans and how doughs rise.
pub mod time {
    pub use crate::time::{
        Anchor, Asked, Because, Change, Doing, Graph, Hands, NoPlan, Plan, PlanRequest, Retiming,
        Stretch, WIDTH, elapsed, graph, hands_on, places, plan, retime, usual_minutes, why_elapsed,
        why_hands_on,
    };

    /// Production days.
    pub mod day {
        pub use crate::time::day::{
            Aim, Batch, Bound, Cause, Change, DayPlan, Due, Effort, Fault, Lag, Machine,
            MachineGroup, Minute, On, Point, Pool, Puzzle, Task, TaskPlace, WayOut, Why, Wrong,
            check, explain, latest,
        };

        /// The best plan that so much work finds, and how good it is.
        ///
        /// # Errors
        /// Where the puzzle names what it doesn't have.
        pub fn plan(puzzle: &Puzzle, effort: Effort) -> Result<DayPlan, Fault> {
            let mut plan = crate::time::day::unproven(puzzle, effort)?;
            crate::time::day::prove(puzzle, &mut plan);
            Ok(plan)
        }
    }

    /// Days and times of the day.
    pub mod clock {
        pub use crate::time::clock::{Instant, MINUTE, Moment, Zone};
    }
}

/// Production days.
pub mod orders {
    pub use crate::orders::laid;
}

/// Documents and the ways to write them.
pub mod print {
    pub use crate::print::document::LinePart;
    pub use crate::print::{
        Document, Wording, csv, day_schema, document, in_two, json, json_tree, parallel,
        plan_schema, schema, text, tree,
    };

    /// Templates and what they need.
    pub mod assets {
        pub use crate::print::assets::{PrintAssets, TEMPLATES};
    }

    /// A house's own look.
    pub mod look {
        pub use crate::print::look::{Colour, LEAST_CONTRAST};
    }

    /// Typeset pages.
    pub mod pages {
        pub use crate::print::pages::{Format, Press, Print, forget};
    }

    /// Handouts.
    pub mod booklet {
        pub use crate::print::booklet::document::{
            BookletPart, TableCell, TablePart, TableRow, TextBlock,
        };
        pub use crate::print::booklet::{
            BookletDocument, Copy, Maker, Terms, booklet_json, booklet_schema,
        };
    }

    /// Words on paper.
    pub mod wording {
        pub use crate::print::guarded::guarded;
        pub use crate::print::wording::{CATALOGUES, unknown_messages};
    }
}

/// Which clauses say something of which verbs.
pub mod sense {
    pub use crate::check::sense::{Clause, NamedPlace, TABLE};
}

/// Meanings compared, and who uses what.
pub mod history {
    pub use crate::history::compare::{ComparedSide, compare_beside};
    pub use crate::history::comparison::{Comparison, json, schema};
    pub use crate::history::tell;

    /// What changed from one side to the other, nothing being known to be the same.
    pub fn compare(old: &ComparedSide, new: &ComparedSide) -> Comparison {
        compare_beside(old, new, &rustc_hash::FxHashSet::default())
    }

    /// The five letters of each formula of a bakehouse, by its key.
    pub fn codes(bakehouse: &crate::desk::Bakehouse) -> Vec<(String, String)> {
        use crate::history::catalogue::{Catalogue, shared_of};
        let trees = || bakehouse.files.iter().map(|file| &file.tree);
        let shared: Vec<_> = trees().map(shared_of).collect();
        let catalogue = Catalogue::of(trees().zip(&shared));
        let formulas = trees().flat_map(|tree| &tree.formulas);
        let code = |formula| crate::history::code::of_meaning(&catalogue.mark(formula).0.baked);
        formulas.map(|formula| (formula.name.key.to_string(), code(formula))).collect()
    }

    /// What a house makes of the card of each of its formulas, with volumes beside the weights, by
    /// its settings and machines, by the formula's key: what the last three letters of the card's
    /// code hold of it.
    pub fn effects(bakehouse: &crate::desk::Bakehouse) -> Vec<(String, String)> {
        let bare = bakehouse.house.bare();
        let formulas = bakehouse.files.iter().flat_map(|file| &file.tree.formulas);
        let houses = (&bakehouse.house, &bare);
        let of = |it| crate::history::stamp::effect(houses, it, "", true);
        formulas.map(|it| (it.name.key.to_string(), of(it))).collect()
    }

    /// The five letters of each booklet and day of a bakehouse, by its key.
    pub fn codes_of_handouts(bakehouse: &crate::desk::Bakehouse) -> Vec<(String, String)> {
        use crate::history::catalogue::{Catalogue, shared_of};
        let trees = || bakehouse.files.iter().map(|file| &file.tree);
        let shared: Vec<_> = trees().map(shared_of).collect();
        let catalogue = Catalogue::of(trees().zip(&shared));
        let all = catalogue.handouts().filter_map(|own| catalogue.meaning_of_handout(&own.key));
        let code =
            |it: &crate::history::catalogue::Meaning| crate::history::code::of_meaning(&it.baked);
        all.map(|meaning| (meaning.own.key.to_string(), code(&meaning))).collect()
    }

    /// The history of a formula.
    pub mod log {
        pub use crate::history::log::schema;
    }

    /// Each number of a manuscript that changed.
    pub mod numbers {
        pub use crate::history::numbers::schema;
    }

    /// Where a code came from.
    pub mod trace {
        pub use crate::history::trace::schema;
    }

    /// Who uses what.
    pub mod uses {
        pub use crate::history::uses::schema;
    }
}

/// Files, bakehouses and all findings of a run.
pub mod desk {
    pub use crate::desk::{
        Bakehouse, Disk, FileSystem, Kept, Loaded, assets, bakehouses, check_formula, is_sound,
        load, load_beside, report, rules,
    };

    /// Everything there is to say of what was loaded, its prints left out.
    pub fn check(loaded: &Loaded) -> Vec<crate::diag::Finding> {
        report(loaded, None).findings
    }

    /// Booklets and what their prints need.
    pub mod booklets {
        pub use crate::desk::booklets::{booklets, house_and_words};
        pub use crate::desk::handouts::may_print;
        pub use crate::desk::terms::terms;
    }

    /// The pages of the reference.
    pub mod reference {
        pub use crate::desk::reference::{
            KINDS, LookupAnswer, NameKind, Reference, ReferenceEntry,
        };
    }
}
