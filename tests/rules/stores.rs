//! Runs the contract tests on every store.

mod sqlite {
    use server_core::store::sqlite::SqliteStore;
    use uuid::Uuid;

    /// A store in a new file; the folder is deleted when the test drops it.
    async fn fresh() -> (tempfile::TempDir, SqliteStore) {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("waxend.db");
        let store = SqliteStore::open(&file, Uuid::from_u128(1), Uuid::from_u128(2))
            .await
            .unwrap();
        (folder, store)
    }

    support::store_contract!(fresh);
}

mod memory {
    use support::memory::MemoryStore;
    use uuid::Uuid;

    async fn fresh() -> ((), MemoryStore) {
        ((), MemoryStore::new(Uuid::from_u128(1), Uuid::from_u128(2)))
    }

    support::store_contract!(fresh);
}
