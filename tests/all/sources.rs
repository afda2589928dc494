//! Source files as a compiler sees them: the modules, what each defines, and which
//! others it names. Comments, texts and `#[cfg(test)]` modules are left out.

use crate::support::top;
use proc_macro2::{Delimiter, TokenStream, TokenTree};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// A path of names: `["crate", "time", "graph"]`.
pub type Names = Vec<String>;

/// A name brought in by a `use` declaration.
struct Import {
    /// What it is called here; `*` for all there is.
    name: String,
    path: Names,
    /// Whether it is handed on with `pub`.
    public: bool,
}

/// A module: a file, or one written inside a file.
#[derive(Default)]
struct Module {
    file: String,
    imports: Vec<Import>,
    defined: BTreeSet<String>,
    /// Paths of two names and more outside `use`.
    paths: BTreeSet<Names>,
    /// All names outside `use`.
    names: BTreeSet<String>,
    literals: Vec<String>,
}

/// All modules of the crate, by their paths.
#[derive(Default)]
pub struct Sources {
    modules: BTreeMap<Names, Module>,
    /// Modules that only tests have.
    tests: BTreeSet<Names>,
}

impl Sources {
    /// Reads everything below `src`; `main.rs` is a crate of its own and counts as a module.
    pub fn read() -> Self {
        let mut sources = Self::default();
        sources.read_folder(&top().join("src"), &["crate".to_owned()]);
        sources.without_tests()
    }

    fn without_tests(mut self) -> Self {
        self.modules.retain(|path, _| !self.tests.iter().any(|test| path.starts_with(test)));
        self
    }

    /// Texts as the files of a crate, by their module paths such as `crate::time::graph`.
    pub fn of(texts: &[(&str, &str)]) -> Self {
        let mut sources = Self::default();
        for (module, text) in texts {
            let path = module.split("::").map(str::to_owned).collect();
            sources.read_file(&module.replace("crate::", "src/").replace("::", "/"), path, text);
        }
        sources.without_tests()
    }

    fn read_folder(&mut self, folder: &Path, path: &[String]) {
        for entry in folder.read_dir().expect("listed") {
            let entry = entry.expect("an entry").path();
            let stem = entry.file_stem().expect("a name").to_string_lossy().into_owned();
            let inner = [path, std::slice::from_ref(&stem)].concat();
            if entry.is_dir() {
                self.read_folder(&entry, &inner);
            } else if entry.extension().is_some_and(|extension| extension == "rs") {
                let is_folder = ["mod", "lib"].contains(&stem.as_str());
                let inner = if is_folder { path.to_vec() } else { inner };
                let text = fs::read_to_string(&entry).expect("readable");
                let file = entry.strip_prefix(top()).expect("in the checkout");
                self.read_file(&file.to_string_lossy(), inner, &text);
            }
        }
    }

    fn read_file(&mut self, file: &str, path: Names, text: &str) {
        let tokens: TokenStream = text.parse().unwrap_or_else(|why| panic!("{file}: {why}"));
        self.read_module(file, path, tokens);
    }

    fn read_module(&mut self, file: &str, path: Names, tokens: TokenStream) {
        let mut module = Module { file: file.to_owned(), ..Module::default() };
        let mut inner = Vec::new();
        Reader { module: &mut module, inner: &mut inner }.read(tokens, true);
        for (name, is_test, body) in inner {
            let below = [path.as_slice(), &[name]].concat();
            match body {
                _ if is_test => drop(self.tests.insert(below)),
                Some(body) => self.read_module(file, below, body),
                None => {}
            }
        }
        self.modules.insert(path, module);
    }

    /// The files below a folder of `src`, such as `time` or `print/pages`.
    pub fn files(&self, folder: &str) -> BTreeSet<&str> {
        let below = format!("src/{folder}/");
        self.modules.values().map(|m| m.file.as_str()).filter(|f| f.starts_with(&below)).collect()
    }

    fn modules_of<'a>(&'a self, file: &'a str) -> impl Iterator<Item = (&'a Names, &'a Module)> {
        self.modules.iter().filter(move |(_, module)| module.file == file)
    }

    /// Every path that a file names, in `use` trees and elsewhere, from `crate` or a library on.
    pub fn named_by(&self, file: &str) -> BTreeSet<Names> {
        let of_module = |(at, module): (&Names, &Module)| {
            let imported = module.imports.iter().map(|import| &import.path);
            let paths = imported.chain(&module.paths);
            paths.map(|path| self.absolute(at, path, 0).unwrap_or_else(|| path.clone())).collect()
        };
        self.modules_of(file).flat_map(|each| -> Vec<Names> { of_module(each) }).collect()
    }

    /// Whether a name occurs in the code of a file.
    pub fn has_name(&self, file: &str, name: &str) -> bool {
        self.modules_of(file).any(|(_, module)| {
            let imported = module.imports.iter().any(|i| i.path.iter().any(|part| part == name));
            imported || module.names.contains(name)
        })
    }

    /// The numbers of a file that are written with a decimal point or as a float.
    pub fn floats<'a>(&'a self, file: &'a str) -> Vec<&'a str> {
        let literals = self.modules_of(file).flat_map(|(_, module)| &module.literals);
        literals.map(String::as_str).filter(|literal| is_float(literal)).collect()
    }

    /// The digits that the numbers of a file begin with, those of its tests left out.
    pub fn numbers<'a>(&'a self, file: &'a str) -> Vec<&'a str> {
        let literals = self.modules_of(file).flat_map(|(_, module)| &module.literals);
        let digits = |literal: &'a String| {
            literal.split(|sign: char| !sign.is_ascii_digit() && sign != '_').next().unwrap_or("")
        };
        literals.map(digits).filter(|digits| !digits.is_empty()).collect()
    }

    /// For each file that `file` depends on, one name that it takes from there.
    ///
    /// A name that is only handed on with `pub use` is no dependency.
    pub fn dependencies(&self, file: &str) -> BTreeMap<&str, String> {
        let mut found = BTreeMap::new();
        for (at, module) in self.modules_of(file) {
            for path in module.used_paths() {
                if let Some(other) = self.home(at, path).filter(|other| *other != file) {
                    found.entry(other).or_insert_with(|| path.join("::"));
                }
            }
            for import in module.imports.iter().filter(|import| import.name == "*") {
                let Some(from) = self.absolute(at, &import.path, 0) else { continue };
                for name in &module.names {
                    let home = self.offered(&from, name, 0).filter(|other| *other != file);
                    home.map(|other| found.entry(other).or_insert_with(|| name.clone()));
                }
            }
        }
        found
    }

    /// The file in which what a path names is written; none for a library or a bare module.
    fn home(&self, at: &Names, path: &[String]) -> Option<&str> {
        let path = self.absolute(at, path, 0)?;
        self.home_of(&path, 0)
    }

    /// The same for a path from `crate` on.
    fn home_of(&self, path: &[String], depth: usize) -> Option<&str> {
        let known = (1..=path.len()).rev().find(|&n| self.modules.contains_key(&path[..n]))?;
        let name = path.get(known)?;
        let at = path[..known].to_vec();
        let module = &self.modules[&at];
        if let Some(import) = module.imports.iter().find(|import| import.name == *name) {
            let whole = [import.path.as_slice(), &path[known + 1..]].concat();
            let whole = self.absolute(&at, &whole, depth + 1)?;
            return self.home_of(&whole, depth + 1);
        }
        self.offered(&at, name, depth).or(Some(&module.file))
    }

    /// The file that defines a name which a module offers itself or by `use …::*`.
    fn offered(&self, at: &Names, name: &str, depth: usize) -> Option<&str> {
        let module = self.modules.get(at).filter(|_| depth < 9)?;
        if module.defined.contains(name) {
            return Some(&module.file);
        }
        if module.imports.iter().any(|import| import.name == name) {
            return self.home_of(&[at.as_slice(), &[name.to_owned()]].concat(), depth + 1);
        }
        let mut all = module.imports.iter().filter(|import| import.name == "*");
        all.find_map(|import| {
            let from = self.absolute(at, &import.path, depth + 1).filter(|from| from != at)?;
            self.offered(&from, name, depth + 1)
        })
    }

    /// A path as seen from a module, from `crate` on; none where it begins with a library
    /// or with a name of this module that is none itself.
    fn absolute(&self, at: &Names, path: &[String], depth: usize) -> Option<Names> {
        assert!(depth < 20, "{at:?}: {path:?} leads in a circle");
        let (first, rest) = path.split_first()?;
        let start = match first.as_str() {
            "crate" => vec!["crate".to_owned()],
            "self" => at.clone(),
            "super" => at[..at.len() - 1].to_vec(),
            _ => {
                let child = [at.as_slice(), std::slice::from_ref(first)].concat();
                let import = self.modules.get(at)?.imports.iter().find(|i| i.name == *first);
                match import.filter(|import| import.path[0] != *first) {
                    Some(import) => self.absolute(at, &import.path, depth + 1)?,
                    None if self.modules.contains_key(&child) => child,
                    None => return None,
                }
            }
        };
        match rest.first().map(String::as_str) {
            Some("super" | "self") => self.absolute(&start, rest, depth + 1),
            _ => Some([start.as_slice(), rest].concat()),
        }
    }

    /// The circles of files below a folder: those that depend on each other, sorted.
    pub fn circles(&self, folder: &str) -> Vec<BTreeSet<&str>> {
        let files = self.files(folder);
        let uses: BTreeMap<&str, BTreeSet<&str>> = files
            .iter()
            .map(|file| (*file, self.dependencies(file).into_keys().collect()))
            .collect();
        let reached: BTreeMap<&str, BTreeSet<&str>> =
            files.iter().map(|file| (*file, reached(&uses, file))).collect();
        let circle_of = |file: &&str| -> BTreeSet<&str> {
            let there = &reached[file];
            there
                .iter()
                .filter(|other| reached.get(*other).is_some_and(|back| back.contains(file)))
                .copied()
                .collect()
        };
        let circles: BTreeSet<BTreeSet<&str>> = files.iter().map(circle_of).collect();
        circles.into_iter().filter(|circle| !circle.is_empty()).collect()
    }
}

/// Everything that can be reached from one file.
fn reached<'a>(uses: &BTreeMap<&'a str, BTreeSet<&'a str>>, from: &'a str) -> BTreeSet<&'a str> {
    let mut found = BTreeSet::new();
    let mut open = vec![from];
    while let Some(file) = open.pop() {
        let next = uses.get(file).into_iter().flatten();
        open.extend(next.copied().filter(|next| found.insert(*next)));
    }
    found
}

impl Module {
    /// The paths that the code of the module depends on.
    fn used_paths(&self) -> impl Iterator<Item = &Names> {
        let needed = |import: &&Import| {
            import.name != "*" && (!import.public || self.names.contains(&import.name))
        };
        self.imports.iter().filter(needed).map(|import| &import.path).chain(&self.paths)
    }
}

/// Whether a literal is a number with a decimal point, an exponent or the type of a float.
fn is_float(literal: &str) -> bool {
    let after = literal.trim_start_matches(|part: char| part.is_ascii_digit() || part == '_');
    let is_number = after.len() < literal.len();
    is_number && [".", "e", "E", "f32", "f64"].iter().any(|sign| after.starts_with(sign))
}

/// A module written inside another, or declared in it: its name, whether only tests have
/// it, and its tokens.
type Inner = (String, bool, Option<TokenStream>);

/// Goes through the tokens of a module.
struct Reader<'a> {
    module: &'a mut Module,
    inner: &'a mut Vec<Inner>,
}

impl Reader<'_> {
    /// `at_top` says whether items found here are items of the module.
    fn read(&mut self, tokens: TokenStream, at_top: bool) {
        let tokens: Vec<TokenTree> = tokens.into_iter().collect();
        let mut at = 0;
        while at < tokens.len() {
            let (before, rest) = tokens.split_at(at);
            at += match &rest[0] {
                TokenTree::Punct(_) => 1,
                TokenTree::Literal(literal) => {
                    if !is_tuple_index(before) {
                        self.module.literals.push(literal.to_string());
                    }
                    1
                }
                TokenTree::Group(inner) => {
                    let in_macro = is_sign(before.last(), '!');
                    self.read(inner.stream(), at_top && in_macro);
                    1
                }
                TokenTree::Ident(word) => self.read_word(&word.to_string(), before, rest, at_top),
            };
        }
    }

    /// Reads what a word begins, and says of how many tokens it is.
    fn read_word(
        &mut self,
        word: &str,
        before: &[TokenTree],
        rest: &[TokenTree],
        at_top: bool,
    ) -> usize {
        let (is_public, attributes) = modifiers(before);
        match word {
            // `impl Trait + use<'a>` is no declaration.
            "use" if !is_sign(rest.get(1), '<') => {
                let end = rest.iter().position(|token| is_sign(Some(token), ';'));
                let end = end.expect("`use` ends with `;`");
                self.read_use(&rest[1..end], &[], is_public);
                end
            }
            "mod" => {
                let is_test = attributes.iter().any(|attribute| attribute == "cfg(test)");
                let declared = name(rest.get(1)).expect("a name");
                self.inner.push((declared, is_test, rest.get(2).and_then(group)));
                3
            }
            _ => {
                if at_top {
                    self.define(word, before, rest);
                }
                self.read_path(rest)
            }
        }
    }

    /// Takes down what `fn x`, `struct X` and their like define.
    fn define(&mut self, word: &str, before: &[TokenTree], rest: &[TokenTree]) {
        let defining = ["fn", "struct", "enum", "trait", "type", "const", "static", "union"];
        let is_lifetime = is_sign(before.last(), '\'');
        if defining.contains(&word) && !is_lifetime {
            self.module.defined.extend(name(rest.get(1)).filter(|next| next != "fn"));
        }
    }

    /// Takes down the path at the front, and says of how many tokens it is.
    fn read_path(&mut self, rest: &[TokenTree]) -> usize {
        let mut path: Names = name(rest.first()).into_iter().collect();
        let mut length = 1;
        while is_colons(&rest[length..])
            && let Some(next) = name(rest.get(length + 2))
        {
            path.push(next);
            length += 3;
        }
        self.module.names.extend(path.iter().cloned());
        if path.len() > 1 {
            self.module.paths.insert(path);
        }
        length
    }

    /// Takes down the names of a `use` tree below `before`.
    fn read_use(&mut self, tree: &[TokenTree], before: &[String], public: bool) {
        let tree = if is_colons(tree) { &tree[2..] } else { tree };
        let Some(first) = tree.first() else { return };
        if let Some(inner) = group(first) {
            let inner: Vec<TokenTree> = inner.into_iter().collect();
            for branch in inner.split(|token| token.to_string() == ",") {
                self.read_use(branch, before, public);
            }
            return;
        }
        let path = [before, &[first.to_string()]].concat();
        if is_colons(&tree[1..]) {
            return self.read_use(&tree[3..], &path, public);
        }
        let own = if first.to_string() == "self" { before.last().cloned() } else { None };
        let called = name(tree.get(2)).or(own).unwrap_or_else(|| first.to_string());
        let path = if path.len() > 1 && first.to_string() == "self" || first.to_string() == "*" {
            before.to_vec()
        } else {
            path
        };
        self.module.imports.push(Import { name: called, path, public });
    }
}

fn name(token: Option<&TokenTree>) -> Option<String> {
    match token {
        Some(TokenTree::Ident(name)) => Some(name.to_string()),
        _ => None,
    }
}

fn group(token: &TokenTree) -> Option<TokenStream> {
    match token {
        TokenTree::Group(group) if group.delimiter() != Delimiter::None => Some(group.stream()),
        _ => None,
    }
}

fn is_sign(token: Option<&TokenTree>, sign: char) -> bool {
    matches!(token, Some(TokenTree::Punct(found)) if found.as_char() == sign)
}

fn is_colons(tokens: &[TokenTree]) -> bool {
    is_sign(tokens.first(), ':') && is_sign(tokens.get(1), ':')
}

/// Whether what comes next is the `0.1` of `pair.0.1`; the `0.1` of `..0.1` is a number.
fn is_tuple_index(before: &[TokenTree]) -> bool {
    let (rest, last) = before.split_at(before.len().saturating_sub(1));
    is_sign(last.first(), '.') && !is_sign(rest.last(), '.')
}

/// Whether `pub` stands before an item, and its attributes.
fn modifiers(mut before: &[TokenTree]) -> (bool, Vec<String>) {
    let mut attributes = Vec::new();
    let is_pub = |token: &TokenTree| name(Some(token)).is_some_and(|word| word == "pub");
    let is_public = before.iter().rev().take(2).any(is_pub);
    while let Some((last, rest)) = before.split_last() {
        match last {
            TokenTree::Group(inner) if is_sign(rest.last(), '#') => {
                attributes.push(inner.stream().to_string().replace(' ', ""));
                before = &rest[..rest.len() - 1];
            }
            TokenTree::Group(_) if rest.last().is_some_and(is_pub) => before = rest,
            _ if is_pub(last) => before = rest,
            _ => break,
        }
    }
    (is_public, attributes)
}
