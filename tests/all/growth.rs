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
