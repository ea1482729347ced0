//! The sources as tokens: what each declares, and where its paths lead.

use proc_macro2::{Delimiter, TokenStream, TokenTree};
use std::fs;
use std::path::{Path, PathBuf};

pub struct Source {
    /// The path below `src`, with `/` between its parts.
    pub path: String,
    pub code: String,
}

impl Source {
    /// The modules that it is in, from the crate on.
    pub fn module(&self) -> Vec<String> {
        let stem = self.path.strip_suffix(".rs").unwrap_or(&self.path);
        let stem = stem.strip_suffix("/mod").unwrap_or(stem);
        stem.split('/').map(str::to_owned).collect()
    }

    pub fn room(&self) -> String {
        self.module().swap_remove(0)
    }

    /// All that it refers to within the crate, from the crate on.
    pub fn uses(&self) -> Vec<Vec<String>> {
        let tokens: TokenStream = self.code.parse().expect("sources are Rust");
        let mut found = Vec::new();
        walk(tokens, &self.module(), &mut found);
        found
    }
}

/// Follows every path in the tokens of a module.
fn walk(tokens: TokenStream, module: &[String], found: &mut Vec<Vec<String>>) {
    let tokens: Vec<TokenTree> = tokens.into_iter().collect();
    let mut at = 0;
    while at < tokens.len() {
        match &tokens[at] {
            TokenTree::Ident(ident) if ident == "mod" => {
                let (name, body) = (tokens.get(at + 1), tokens.get(at + 2));
                if let (Some(TokenTree::Ident(name)), Some(TokenTree::Group(body))) = (name, body) {
                    let inner = [module, &[name.to_string()]].concat();
                    walk(body.stream(), &inner, found);
                    at += 2;
                }
            }
            TokenTree::Ident(ident)
                if ["crate", "self", "super", "halfturn"].contains(&ident.to_string().as_str()) =>
            {
                let rest = at + path(&tokens[at..], module, &[], found);
                at = rest.max(at + 1) - 1;
            }
            TokenTree::Group(group) => walk(group.stream(), module, found),
            _ => {}
        }
        at += 1;
    }
}

/// Reads a path, with what stands in braces at its end, and says how many tokens it takes.
fn path(
    tokens: &[TokenTree],
    module: &[String],
    before: &[String],
    found: &mut Vec<Vec<String>>,
) -> usize {
    let mut segments = before.to_vec();
    let mut at = 0;
    loop {
        match tokens.get(at) {
            Some(TokenTree::Ident(ident)) => segments.push(ident.to_string()),
            Some(TokenTree::Group(group)) if group.delimiter() == Delimiter::Brace => {
                let inside: Vec<TokenTree> = group.stream().into_iter().collect();
                for part in inside.split(|token| is(token, ',')) {
                    path(part, module, &segments, found);
                }
                return at + 1;
            }
            _ => break,
        }
        at += 1;
        match (tokens.get(at), tokens.get(at + 1)) {
            (Some(first), Some(second)) if is(first, ':') && is(second, ':') => at += 2,
            _ => break,
        }
    }
    found.extend(resolved(&segments, module));
    at
}

pub fn is(token: &TokenTree, character: char) -> bool {
    matches!(token, TokenTree::Punct(punct) if punct.as_char() == character)
}

/// Where a path leads, from the crate on; nothing where it leads out of it.
fn resolved(segments: &[String], module: &[String]) -> Option<Vec<String>> {
    let mut base = module.to_vec();
    let mut rest = segments;
    match segments.first()?.as_str() {
        "crate" | "halfturn" => {
            base.clear();
            rest = &rest[1..];
        }
        "self" | "super" => {}
        _ => return None,
    }
    while let Some(step @ ("self" | "super")) = rest.first().map(String::as_str) {
        if step == "super" {
            base.pop();
        }
        rest = &rest[1..];
    }
    Some([&base, rest].concat())
}

pub fn sources() -> Vec<Source> {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files: Vec<PathBuf> = Vec::new();
    let mut folders = vec![src.clone()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("src can be listed") {
            let path = entry.expect("src can be listed").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                files.push(path);
            }
        }
    }
    files
        .iter()
        .map(|file| Source {
            path: file
                .strip_prefix(&src)
                .expect("the file is below src")
                .to_string_lossy()
                .replace('\\', "/"),
            code: fs::read_to_string(file).expect("sources are text"),
        })
        .filter(|source| !["lib.rs", "main.rs"].contains(&source.path.as_str()))
        .collect()
}
