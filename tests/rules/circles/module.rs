//! What one module declares, what it imports, and every path in it.

use std::collections::{BTreeMap, BTreeSet};
use std::mem;

use proc_macro2::{TokenStream, TokenTree};
use syn::visit::{self, Visit};

/// The words of a path as it is written: `["super", "kv", "Kv"]`.
pub(super) type Words = Vec<String>;

/// What a name means in a module.
#[derive(Debug)]
pub(super) enum Meaning {
    /// Declared here.
    Declared,
    /// A module inside this one.
    Module,
    /// Imported, by this path.
    Import(Words),
}

/// One module, without the modules inside it.
#[derive(Debug, Default)]
pub(super) struct Module {
    /// A name may mean several things: a module and a function.
    pub(super) names: BTreeMap<String, Vec<Meaning>>,
    /// The modules of which all names are imported (`use module::*`).
    pub(super) globs: Vec<Words>,
    /// Every path in it, including those of its imports.
    pub(super) mentions: BTreeSet<Words>,
}

impl Module {
    /// Reads one of its items. Of a module inside it, only the name is read.
    pub(super) fn read(&mut self, item: &syn::Item) {
        match item {
            syn::Item::Mod(inner) => self.mean(inner.ident.to_string(), Meaning::Module),
            _ => {
                if let Some(name) = declared(item) {
                    self.mean(name.to_string(), Meaning::Declared);
                }
                self.visit_item(item);
            }
        }
    }

    fn mean(&mut self, name: String, meaning: Meaning) {
        self.names.entry(name).or_default().push(meaning);
    }

    /// Reads a part of `use before::…`.
    fn import(&mut self, mut before: Words, tree: &syn::UseTree) {
        match tree {
            syn::UseTree::Path(path) => {
                before.push(path.ident.to_string());
                self.import(before, &path.tree);
            }
            syn::UseTree::Group(group) => {
                for tree in &group.items {
                    self.import(before.clone(), tree);
                }
            }
            syn::UseTree::Name(name) => self.import_as(before, name.ident.to_string(), None),
            syn::UseTree::Rename(name) => {
                self.import_as(before, name.ident.to_string(), Some(name.rename.to_string()));
            }
            syn::UseTree::Glob(_) => {
                self.mentions.insert(before.clone());
                self.globs.push(before);
            }
        }
    }

    /// Reads `use before::what as name`. `use before::{self}` imports the module itself.
    fn import_as(&mut self, mut before: Words, what: String, name: Option<String>) {
        if what != "self" {
            before.push(what);
        }
        if let Some(name) = name.or_else(|| before.last().cloned()) {
            self.mean(name, Meaning::Import(before.clone()));
        }
        self.mentions.insert(before);
    }

    /// Finds the paths in the tokens that are given to a macro, whose grammar is not known here.
    fn scan(&mut self, tokens: TokenStream) {
        let mut words = Words::new();
        let mut colons = 0;
        for token in tokens {
            match token {
                TokenTree::Ident(word) => {
                    if colons != 2 {
                        self.mention(&mut words);
                    }
                    words.push(word.to_string());
                    colons = 0;
                }
                TokenTree::Punct(sign) if sign.as_char() == ':' => colons += 1,
                other => {
                    self.mention(&mut words);
                    colons = 0;
                    if let TokenTree::Group(group) = other {
                        self.scan(group.stream());
                    }
                }
            }
        }
        self.mention(&mut words);
    }

    fn mention(&mut self, words: &mut Words) {
        if !words.is_empty() {
            self.mentions.insert(mem::take(words));
        }
    }
}

impl<'ast> Visit<'ast> for Module {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        if !is_for_tests(attributes(item)) {
            visit::visit_item(self, item);
        }
    }

    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        self.import(Words::new(), &item.tree);
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        self.mentions.insert(words(path));
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, call: &'ast syn::Macro) {
        self.scan(call.tokens.clone());
        visit::visit_macro(self, call);
    }

    /// `#[serde(with = "super::colour")]` names a module too.
    fn visit_attribute(&mut self, attribute: &'ast syn::Attribute) {
        let syn::Meta::List(list) = &attribute.meta else {
            return;
        };
        for token in list.tokens.clone() {
            let text = syn::parse_str::<syn::LitStr>(&token.to_string());
            if let Ok(path) = text.and_then(|text| text.parse::<syn::Path>()) {
                self.mentions.insert(words(&path));
            }
        }
    }

    /// The path in `pub(in crate::store)` is no import.
    fn visit_vis_restricted(&mut self, _: &'ast syn::VisRestricted) {}
}

fn words(path: &syn::Path) -> Words {
    path.segments.iter().map(|part| part.ident.to_string()).collect()
}

/// Whether these attributes have `#[cfg(test)]`.
pub(super) fn is_for_tests(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|attribute| match &attribute.meta {
        syn::Meta::List(list) => list.path.is_ident("cfg") && list.tokens.to_string() == "test",
        _ => false,
    })
}

/// The name that an item declares.
fn declared(item: &syn::Item) -> Option<&syn::Ident> {
    match item {
        syn::Item::Const(item) => Some(&item.ident),
        syn::Item::Enum(item) => Some(&item.ident),
        syn::Item::Fn(item) => Some(&item.sig.ident),
        syn::Item::Macro(item) => item.ident.as_ref(),
        syn::Item::Static(item) => Some(&item.ident),
        syn::Item::Struct(item) => Some(&item.ident),
        syn::Item::Trait(item) => Some(&item.ident),
        syn::Item::Type(item) => Some(&item.ident),
        _ => None,
    }
}

fn attributes(item: &syn::Item) -> &[syn::Attribute] {
    match item {
        syn::Item::Const(item) => &item.attrs,
        syn::Item::Enum(item) => &item.attrs,
        syn::Item::Fn(item) => &item.attrs,
        syn::Item::Impl(item) => &item.attrs,
        syn::Item::Macro(item) => &item.attrs,
        syn::Item::Mod(item) => &item.attrs,
        syn::Item::Static(item) => &item.attrs,
        syn::Item::Struct(item) => &item.attrs,
        syn::Item::Trait(item) => &item.attrs,
        syn::Item::Type(item) => &item.attrs,
        syn::Item::Use(item) => &item.attrs,
        _ => &[],
    }
}
