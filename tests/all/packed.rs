//! The packed files beside the tables that people edit.

use std::fs;
use std::path::Path;

/// A stale file costs every run the reading of its tables.
#[test]
fn the_packed_tables_are_current() {
    for (path, packed) in assize::testing::packed() {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
        if std::env::var_os("ASSIZE_REWRITE").is_some() {
            fs::write(&path, &packed).expect("written");
        }
        let written = fs::read(&path).expect("a packed file");
        assert!(written == packed, "{path:?} is stale; run the tests with ASSIZE_REWRITE=1");
    }
}
