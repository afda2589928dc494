//! Files of a size nobody writes end in a time that grows with them.
//!
//! No clock is read: of each kind there is so much that time that grew with its square would
//! be minutes, and the run would be seen to hang.

use crate::support::names;

fn formula(more: &str) -> String {
    format!(
        "formula loaf \"Loaf\" {{\n  makes 1 loaf at 1 kg\n  total {{\n    bread flour 100%\n    \
         water 65%\n    salt 2%\n  }}\n{more}}}\n"
    )
}

#[test]
fn many_claims_are_compared_in_one_pass() {
    let claims: String = (0..6_000).map(|at| format!("    salt {}%\n", 2 + at % 2)).collect();
    let found = names(&formula(&format!("  expect {{\n{claims}  }}\n")));
    // Each one but the first is told against another one.
    assert_eq!(found.iter().filter(|name| **name == "claims-disagree").count(), 5_999);
}

/// What would be worked out for minutes is refused, with the bound, and nothing else is said
/// of what lies beyond it.
#[test]
fn what_no_bread_has_is_refused_with_its_bound() {
    let many =
        |count: usize, line: &dyn Fn(usize) -> String| (0..count).map(line).collect::<String>();
    let told = |text: &str| -> Vec<String> {
        let found = crate::support::findings(text);
        let own = found.iter().filter(|it| it.rule.name == "too-many");
        own.map(|it| it.message.clone()).collect()
    };
    let kinds =
        many(3_000, &|at| format!("{}1 kind-{at} at 100 g", if at > 0 { ", " } else { "" }));
    let text = formula("").replace("1 loaf at 1 kg", &kinds);
    assert_eq!(told(&text), ["`loaf` has 3000 kinds of piece; at most 60 are worked out"]);
    let lines = many(6_000, &|at| format!("    water ({at}) 0.01%\n"));
    let text = formula(&format!("  piece {{\n{}  }}\n", lines.replace('%', " g")));
    assert_eq!(told(&text), ["`loaf` has 6003 lines; at most 5000 are worked out"]);
    let mixtures =
        many(3_000, &|at| format!("mixture wash-{at} {{ whole egg 9 parts; water 1 part }}\n"));
    let used = many(3_000, &|at| format!("    wash-{at} 0.1 g\n"));
    let text = mixtures + &formula(&format!("  piece {{\n{used}  }}\n"));
    assert_eq!(
        told(&text),
        ["this is more than the 200 mixtures and formulas that one formula can take"]
    );
    assert_eq!(names(&text).iter().filter(|name| **name == "too-many").count(), 1);
}

/// A name that is a text is refused before what it may mean is looked for.
#[test]
fn a_name_has_a_length() {
    for unit in ["1", "1a ", "é", "а", "ab ", "e-", "nut ", "E220 "] {
        let name = unit.repeat(3_000 / unit.len());
        let texts = [
            format!("ingredient \"{name}\" like salt\n"),
            formula(&format!("  piece {{ \"{name}\" 1 g }}\n")),
            formula(&format!("  method {{ mix 8min with \"{name}\" }}\n")),
        ];
        for text in texts {
            let found = names(&text);
            assert!(found.contains(&"malformed-name"), "{unit:?}: {found:?}");
        }
        names(&formula(&format!("  headnote \"{name}\"\n  expect {{ free from milk; vegan }}\n")));
    }
    let fits = "a".repeat(200);
    let found = names(&format!("ingredient \"{fits}\" like salt\n"));
    assert!(!found.contains(&"malformed-name"), "{found:?}");
}
