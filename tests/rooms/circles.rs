//! Circles of imports: files that can't be read one after another, since each needs the others.
//!
//! A name that a folder hands on (`pub use`) counts for the file that it comes from, and handing
//! it on is no import of the folder's. What only tests bring in does not count.

use crate::sources::{Source, is, sources};
use proc_macro2::{Delimiter, TokenStream, TokenTree};
use std::collections::{BTreeMap, BTreeSet};

type Path = Vec<String>;

/// What a file declares and refers to.
#[derive(Default)]
struct File {
    name: String,
    children: BTreeSet<String>,
    items: BTreeSet<String>,
    /// What it calls by a name of its own, and where that leads.
    aliases: BTreeMap<String, Path>,
    /// All that is brought in from these.
    globs: Vec<Path>,
    /// Paths in its code, from the crate on.
    paths: Vec<Path>,
    /// Names that it hands on.
    handed: BTreeSet<String>,
    /// Every name in its code, but for those in its `use`.
    names: BTreeSet<String>,
}

/// A `use` or a path as it stands.
struct Named {
    path: Path,
    name: String,
    public: bool,
}

fn file(source: &Source) -> File {
    let mut file = File {
        name: source.path.clone(),
        ..File::default()
    };
    let tokens: TokenStream = source.code.parse().expect("sources are Rust");
    let mut named = Vec::new();
    let mut paths = Vec::new();
    scan(tokens, true, &mut file, &mut named, &mut paths);
    let module = source.module();
    for Named { path, name, public } in named {
        let Some(path) = absolute(&path, &module, &file) else {
            continue;
        };
        if name == "*" {
            file.globs.push(path);
            continue;
        }
        if public {
            file.handed.insert(name.clone());
        }
        file.aliases.insert(name, path);
    }
    let absolute = |path: &Path| absolute(path, &module, &file);
    file.paths = paths.iter().filter_map(absolute).collect();
    file
}

/// A path from the crate on; nothing where it leads out of it.
fn absolute(path: &[String], module: &[String], file: &File) -> Option<Path> {
    let (first, rest) = path.split_first()?;
    let mut base = module.to_vec();
    match first.as_str() {
        "crate" => return Some(rest.to_vec()),
        "self" => return Some([&base, rest].concat()),
        "super" => {
            base.pop();
            let ups = rest.iter().take_while(|it| *it == "super").count();
            base.truncate(base.len().saturating_sub(ups));
            return Some([&base, &rest[ups..]].concat());
        }
        _ => {}
    }
    if file.children.contains(first) {
        return Some([&base, path].concat());
    }
    let alias = file.aliases.get(first)?;
    Some([alias, rest].concat())
}

/// Reads tokens: what is declared at the top, what is brought in, and each path.
fn scan(
    tokens: TokenStream,
    top: bool,
    file: &mut File,
    named: &mut Vec<Named>,
    paths: &mut Vec<Path>,
) {
    let tokens: Vec<TokenTree> = tokens.into_iter().collect();
    let mut at = 0;
    let mut public = false;
    let mut tests = false;
    while at < tokens.len() {
        match &tokens[at] {
            TokenTree::Punct(punct) if punct.as_char() == '#' => {
                let attribute = tokens.get(at + 1).map(ToString::to_string);
                let attribute = attribute.unwrap_or_default().replace(' ', "");
                tests |= attribute == "[cfg(test)]";
            }
            TokenTree::Ident(ident) => match ident.to_string().as_str() {
                "pub" => public = true,
                "use" => {
                    let end = at + tokens[at..].iter().take_while(|it| !is(it, ';')).count();
                    if !tests {
                        tree(&tokens[at + 1..end], &[], public, named);
                    }
                    (public, tests) = (false, false);
                    at = end;
                }
                "mod" if top => {
                    let body = tokens.get(at + 2);
                    match (tokens.get(at + 1), body) {
                        (Some(name), Some(body)) if is(body, ';') && !tests => {
                            file.children.insert(name.to_string());
                        }
                        (Some(_), Some(TokenTree::Group(body))) if !tests => {
                            scan(body.stream(), false, file, named, paths);
                        }
                        _ => {}
                    }
                    (public, tests) = (false, false);
                    at += 2;
                }
                "fn" | "struct" | "enum" | "trait" | "const" | "static" | "type" if top => {
                    if let Some(TokenTree::Ident(name)) = tokens.get(at + 1) {
                        file.items.insert(name.to_string());
                    }
                    public = false;
                }
                _ => {
                    let (path, taken) = straight(&tokens[at..]);
                    file.names.extend(path.first().cloned());
                    if path.len() > 1 {
                        paths.push(path);
                        at += taken - 1;
                    }
                }
            },
            TokenTree::Group(group) => {
                if !(tests && group.delimiter() == Delimiter::Brace) {
                    scan(group.stream(), false, file, named, paths);
                }
                if group.delimiter() == Delimiter::Brace {
                    (public, tests) = (false, false);
                }
            }
            _ => {}
        }
        at += 1;
    }
}

/// The path that begins here, and how many tokens it takes.
fn straight(tokens: &[TokenTree]) -> (Path, usize) {
    let mut path = Vec::new();
    let mut at = 0;
    while let Some(TokenTree::Ident(ident)) = tokens.get(at) {
        path.push(ident.to_string());
        at += 1;
        match (tokens.get(at), tokens.get(at + 1), tokens.get(at + 2)) {
            (Some(first), Some(second), Some(TokenTree::Ident(_)))
                if is(first, ':') && is(second, ':') =>
            {
                at += 2;
            }
            _ => break,
        }
    }
    (path, at)
}

/// Reads what a `use` brings in.
fn tree(tokens: &[TokenTree], before: &[String], public: bool, named: &mut Vec<Named>) {
    let mut path = before.to_vec();
    let mut name = None;
    let mut at = 0;
    while let Some(token) = tokens.get(at) {
        match token {
            TokenTree::Ident(ident) if ident == "as" => {
                name = tokens.get(at + 1).map(ToString::to_string);
                at += 1;
            }
            TokenTree::Ident(ident) if ident == "self" && !path.is_empty() => {}
            TokenTree::Ident(ident) => path.push(ident.to_string()),
            TokenTree::Group(group) => {
                let inside: Vec<TokenTree> = group.stream().into_iter().collect();
                for part in inside.split(|token| is(token, ',')) {
                    tree(part, &path, public, named);
                }
                return;
            }
            token if is(token, '*') => name = Some("*".to_owned()),
            _ => {}
        }
        at += 1;
    }
    let Some(last) = path.last() else { return };
    let name = name.unwrap_or_else(|| last.clone());
    named.push(Named { path, name, public });
}

/// All files by the modules that they are.
struct Tree {
    files: Vec<File>,
    modules: BTreeMap<Path, usize>,
}

impl Tree {
    fn of(sources: &[Source]) -> Tree {
        let outside_tests = |source: &&Source| !source.path.ends_with("/tests.rs");
        let sources: Vec<&Source> = sources.iter().filter(outside_tests).collect();
        let modules = sources.iter().enumerate();
        Tree {
            modules: modules.map(|(at, it)| (it.module(), at)).collect(),
            files: sources.iter().map(|source| file(source)).collect(),
        }
    }

    /// The file that what a path names stands in; none where it names a module.
    fn origin(&self, path: &[String], depth: usize) -> Option<usize> {
        if depth > 12 {
            return None;
        }
        let mut at = (0..=path.len()).rev();
        let (at, file) = at.find_map(|at| Some((at, *self.modules.get(&path[..at])?)))?;
        let (name, rest) = path[at..].split_first()?;
        let declares = &self.files[file];
        if declares.items.contains(name) {
            return Some(file);
        }
        if let Some(alias) = declares.aliases.get(name) {
            return self.origin(&[alias, rest].concat(), depth + 1);
        }
        let mut globs = declares.globs.iter();
        let found = globs.find_map(|glob| {
            let path = [glob.as_slice(), &path[at..]].concat();
            let origin = self.origin(&path, depth + 1)?;
            self.files[origin].items.contains(name).then_some(origin)
        });
        found.or(Some(file))
    }

    /// The files that a file needs.
    fn needs(&self, file: usize) -> BTreeSet<usize> {
        let it = &self.files[file];
        let own = it.aliases.iter();
        let own = own.filter(|(name, _)| !it.handed.contains(*name) || it.names.contains(*name));
        let brought = it.globs.iter().flat_map(|glob| {
            let names = it
                .names
                .iter()
                .map(|name| [&glob[..], std::slice::from_ref(name)].concat());
            names.filter_map(|path| {
                let origin = self.origin(&path, 0)?;
                self.files[origin]
                    .items
                    .contains(path.last()?)
                    .then_some(origin)
            })
        });
        let paths = own.map(|(_, path)| path).chain(&it.paths);
        let mut needs: BTreeSet<usize> = paths.filter_map(|path| self.origin(path, 0)).collect();
        needs.extend(brought);
        needs.remove(&file);
        needs
    }

    /// The files that need each other, by more than two.
    fn circles(&self) -> Vec<Vec<&str>> {
        let needs: Vec<BTreeSet<usize>> = (0..self.files.len()).map(|it| self.needs(it)).collect();
        let reached: Vec<BTreeSet<usize>> = (0..needs.len()).map(|it| reach(it, &needs)).collect();
        let mut circles = BTreeSet::new();
        for (file, reached_here) in reached.iter().enumerate() {
            let both = reached_here
                .iter()
                .filter(|it| reached[**it].contains(&file));
            let mut names: Vec<&str> = both.map(|it| self.files[*it].name.as_str()).collect();
            names.sort_unstable();
            if names.len() > 2 {
                circles.insert(names);
            }
        }
        circles.into_iter().collect()
    }
}

/// All that is needed from a file on, itself only where the way comes back.
fn reach(from: usize, needs: &[BTreeSet<usize>]) -> BTreeSet<usize> {
    let mut reached = BTreeSet::new();
    let mut due = vec![from];
    while let Some(file) = due.pop() {
        due.extend(needs[file].iter().filter(|it| reached.insert(**it)));
    }
    reached
}

#[test]
fn no_more_than_two_files_need_each_other() {
    let sources = sources();
    let tree = Tree::of(&sources);
    let circles = tree.circles();
    if std::env::var_os("CIRCLES").is_some() {
        show(&tree, &circles);
    }
    assert_eq!(circles, Vec::<Vec<&str>>::new());
}

/// Each circle with the imports that close it, for whoever wants to break it.
fn show(tree: &Tree, circles: &[Vec<&str>]) {
    for circle in circles {
        println!("{} files", circle.len());
        for (at, file) in tree.files.iter().enumerate() {
            if !circle.contains(&file.name.as_str()) {
                continue;
            }
            let needs = tree
                .needs(at)
                .into_iter()
                .map(|it| tree.files[it].name.as_str());
            let inside: Vec<&str> = needs.filter(|it| circle.contains(it)).collect();
            println!("  {} -> {}", file.name, inside.join(" "));
        }
    }
}

fn circles_of(files: &[(&str, &str)]) -> Vec<usize> {
    let source = |(path, code): &(&str, &str)| Source {
        path: (*path).to_owned(),
        code: (*code).to_owned(),
    };
    let sources: Vec<Source> = files.iter().map(source).collect();
    let tree = Tree::of(&sources);
    tree.circles().iter().map(Vec::len).collect()
}

#[test]
fn a_circle_is_seen_however_it_is_closed() {
    let closing = [
        "use crate::a::one::One; pub struct Three;",
        "use super::one::One; pub struct Three;",
        "use super::{one::{One, Other}}; pub struct Three;",
        "use crate::a::One; pub struct Three;",
        "use super::one; pub struct Three(one::One);",
        "pub struct Three; fn f() { vec![crate::a::one::One] }",
        "pub struct Three; mod inner { use crate::a::One; }",
        "use super::one::*; pub struct Three(One);",
        "pub use super::One; pub struct Three(One);",
    ];
    for three in closing {
        let files = [
            ("a/mod.rs", "mod one; mod two; mod three; pub use one::One;"),
            (
                "a/one.rs",
                "use super::two::Two; pub struct One; pub struct Other;",
            ),
            ("a/two.rs", "use super::three::Three; pub struct Two;"),
            ("a/three.rs", three),
        ];
        assert_eq!(circles_of(&files), [3], "{three}");
    }
}

#[test]
fn what_is_no_circle_of_three_is_none() {
    let open = [
        "use crate::b::Below; pub struct Three;",
        "use super::two::Two; pub struct Three;",
        "pub use super::One; pub struct Three;",
        "use super::one; pub struct Three;",
        "pub struct Three; #[cfg(test)] mod tests { use super::super::One; }",
        "// use super::One;\npub struct Three;",
    ];
    for three in open {
        let files = [
            (
                "a/mod.rs",
                "mod one; mod two; mod three; pub use one::One; pub use two::Two;",
            ),
            ("a/one.rs", "use super::Two; pub struct One;"),
            ("a/two.rs", "use super::three::Three; pub struct Two;"),
            ("a/three.rs", three),
            ("b/mod.rs", "pub struct Below;"),
        ];
        assert_eq!(circles_of(&files), Vec::<usize>::new(), "{three}");
    }
}
