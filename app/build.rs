//! Keeps the wasm's relocations: the bundler reads off them which code and data the screens' pieces need.

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    if std::env::var("CARGO_CFG_TARGET_FAMILY").is_ok_and(|family| family == "wasm") {
        println!("cargo::rustc-link-arg-cdylib=--emit-relocs");
    }
}
