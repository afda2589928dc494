//! Findings about files, one file a rule.

use crate::diag::Rule;

pub mod bug_of_ours;
pub mod file_too_large;
pub mod glyph_missing;
pub mod history_cut_short;
pub mod house_too_large;
pub mod no_repository;
pub mod not_utf_8;
pub mod print_unknown;
pub mod repository_unreadable;
pub mod sheet_out_of_date;
pub mod unread_file;
pub mod unreadable;
pub mod unwritable;

/// The rules of this room.
pub const ALL: &[&Rule] = &[
    &bug_of_ours::RULE,
    &file_too_large::RULE,
    &glyph_missing::RULE,
    &history_cut_short::RULE,
    &house_too_large::RULE,
    &no_repository::RULE,
    &not_utf_8::RULE,
    &print_unknown::RULE,
    &repository_unreadable::RULE,
    &sheet_out_of_date::RULE,
    &unread_file::RULE,
    &unreadable::RULE,
    &unwritable::RULE,
];

/// Why something on the disk failed, in words.
pub fn why(error: &std::io::Error) -> String {
    use std::io::ErrorKind;
    match error.kind() {
        ErrorKind::NotFound => "it is not there".into(),
        ErrorKind::PermissionDenied => "its permissions do not allow it".into(),
        ErrorKind::AlreadyExists => "a file of that name is there".into(),
        ErrorKind::StorageFull => "the disk is full".into(),
        ErrorKind::FileTooLarge => "no file may be so large here".into(),
        ErrorKind::QuotaExceeded => "there is no more space for this user".into(),
        ErrorKind::ReadOnlyFilesystem => "the disk can only be read".into(),
        ErrorKind::IsADirectory => "it is a folder".into(),
        ErrorKind::NotADirectory => "a part of its path is a file".into(),
        _ => {
            let told = error.to_string();
            // The number of the error helps nobody.
            told.split(" (os error").next().unwrap_or_default().to_lowercase()
        }
    }
}
