//! The contract, on every store.

mod sqlite {
    use server::store::sqlite::SqliteStore;
    use uuid::Uuid;

    /// A fresh database file; the folder goes with the test.
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
