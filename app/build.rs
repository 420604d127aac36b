//! Has the linker keep the wasm's relocations, from which the bundler reads the code and data that each lazily loaded
//! piece needs.

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    if std::env::var("CARGO_CFG_TARGET_FAMILY").is_ok_and(|family| family == "wasm") {
        println!("cargo::rustc-link-arg-cdylib=--emit-relocs");
    }
}
