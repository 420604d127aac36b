//! The store on the phone.

pub mod kv;
