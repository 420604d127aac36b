//! The contract of every database under the store: one test suite, run in memory by `cargo test` and on IndexedDB by a
//! page built with the feature `contract`.

use futures_util::future::join_all;

use super::kv::{KeyRange, Kv, KvError, KvTx, Mode, Row, RowValue, Table};
use super::tables::{ALL, BLOBS, BLOCKS, META, PAIRS, TAIL, index};

/// The result of a case: ok, or what was wrong.
pub type Verdict = Result<(), String>;

/// Fails the case unless both sides are equal.
macro_rules! same {
    ($left:expr, $right:expr) => {
        match (&$left, &$right) {
            (left, right) if left == right => {}
            (left, right) => return Err(format!("line {}: {left:?} is not {right:?}", line!())),
        }
    };
}

/// Runs every case, each on a new database from `fresh`. Returns the name and the result of each case.
pub async fn run<K: Kv>(mut fresh: impl FnMut(&str) -> K) -> Vec<(&'static str, Verdict)> {
    let mut verdicts = Vec::new();
    macro_rules! cases {
        ($($case:ident),+ $(,)?) => {
            $(verdicts.push((stringify!($case), $case(&fresh(stringify!($case))).await));)+
        };
    }
    cases!(
        a_committed_row_is_read_back,
        a_dropped_transaction_changes_nothing,
        a_transaction_sees_its_own_writes,
        a_replaced_row_leaves_its_old_places,
        a_row_is_found_under_each_of_its_values,
        rows_come_in_order_of_key,
        a_stretch_has_both_its_ends_and_nothing_else,
        rows_come_in_order_of_value,
        a_stretch_of_values_tells_the_keys_under_it,
        answers_stand_in_the_order_of_the_questions,
        many_questions_one_after_another_keep_it_open,
        a_thousand_questions_at_once,
        writers_wait_for_each_other,
        texts_and_bytes_of_every_kind,
    );
    verdicts
}

#[expect(clippy::needless_pass_by_value, reason = "for `map_err`")]
fn lost(error: KvError) -> String {
    error.to_string()
}

fn row(key: &str, indexed: &[(&'static str, &str)], text: &str) -> Row {
    let mut row = Row::text(key, text);
    row.indexed = indexed
        .iter()
        .map(|(name, value)| (*name, (*value).to_owned()))
        .collect();
    row
}

fn keys(rows: &[Row]) -> Vec<&str> {
    rows.iter().map(|row| row.key.as_str()).collect()
}

fn texts(values: &[&str]) -> Vec<String> {
    values.iter().map(|value| (*value).to_owned()).collect()
}

async fn write<K: Kv>(kv: &K, table: Table, rows: Vec<Row>) -> Verdict {
    let tx = kv.begin(ALL, Mode::Write).await.map_err(lost)?;
    for row in rows {
        tx.put(table, row);
    }
    tx.commit().await.map_err(lost)
}

async fn a_committed_row_is_read_back<K: Kv>(kv: &K) -> Verdict {
    let tx = kv.begin(&[META, BLOBS], Mode::WriteStrict).await.map_err(lost)?;
    let bytes = Row {
        key: "b".to_owned(),
        indexed: Vec::new(),
        value: RowValue::Bytes(vec![0, 255, 7]),
    };
    tx.put(META, row("a", &[], "text"));
    tx.put(BLOBS, bytes.clone());
    tx.commit().await.map_err(lost)?;
    let tx = kv.begin(&[META, BLOBS], Mode::Read).await.map_err(lost)?;
    same!(tx.get(META, "a").await, Ok(Some(row("a", &[], "text"))));
    same!(tx.get(BLOBS, "b").await, Ok(Some(bytes)));
    same!(tx.get(META, "b").await, Ok(None));
    same!(tx.count(META).await, Ok(1));
    Ok(())
}

async fn a_stretch_has_both_its_ends_and_nothing_else<K: Kv>(kv: &K) -> Verdict {
    let rows = ["a", "b", "c", "d"].map(|key| row(key, &[(index::ABOUT, "s")], key));
    write(kv, TAIL, rows.to_vec()).await?;
    let span = KeyRange {
        first: "b",
        last: "cc",
    };
    let tx = kv.begin(&[TAIL], Mode::Write).await.map_err(lost)?;
    same!(tx.count_within(TAIL, span).await, Ok(2));
    let bare = vec![row("b", &[], "b"), row("c", &[], "c")];
    same!(tx.within(TAIL, span).await, Ok(bare));
    tx.delete_within(TAIL, span);
    same!(tx.count_within(TAIL, span).await, Ok(0));
    tx.commit().await.map_err(lost)?;
    let tx = kv.begin(&[TAIL], Mode::Read).await.map_err(lost)?;
    let left = tx.keys_by_index(TAIL, index::ABOUT, &texts(&["s"])).await;
    same!(left, Ok(vec![texts(&["a", "d"])]));
    Ok(())
}

async fn a_stretch_of_values_tells_the_keys_under_it<K: Kv>(kv: &K) -> Verdict {
    let rows = vec![
        row("1", &[(index::ABOUT, "d"), (index::ABOUT, "b")], "twice"),
        row("2", &[(index::ABOUT, "c")], "between"),
        row("3", &[(index::ABOUT, "a"), (index::ABOUT, "e")], "on both sides"),
        row("4", &[(index::UNSENT, "c")], "elsewhere"),
    ];
    write(kv, TAIL, rows).await?;
    let span = KeyRange {
        first: "b",
        last: "d",
    };
    let tx = kv.begin(&[TAIL], Mode::Read).await.map_err(lost)?;
    let found = tx.keys_in_stretch(TAIL, index::ABOUT, span, 9).await;
    same!(found, Ok(texts(&["1", "2", "1"])));
    let found = tx.keys_in_stretch(TAIL, index::ABOUT, span, 2).await;
    same!(found, Ok(texts(&["1", "2"])));
    let found = tx
        .keys_in_stretch(TAIL, index::ABOUT, KeyRange::only("dd"), 9)
        .await;
    same!(found, Ok(texts(&[])));
    Ok(())
}

async fn a_dropped_transaction_changes_nothing<K: Kv>(kv: &K) -> Verdict {
    write(kv, META, vec![row("kept", &[], "old"), row("gone", &[], "old")]).await?;
    let tx = kv.begin(&[META], Mode::Write).await.map_err(lost)?;
    tx.put(META, row("kept", &[], "new"));
    tx.put(META, row("more", &[], "new"));
    tx.delete(META, "gone");
    same!(tx.count(META).await, Ok(2));
    drop(tx);
    let tx = kv.begin(&[META], Mode::Read).await.map_err(lost)?;
    let rows = tx.after(META, "", 9).await.map_err(lost)?;
    same!(rows, vec![row("gone", &[], "old"), row("kept", &[], "old")]);
    Ok(())
}

async fn a_transaction_sees_its_own_writes<K: Kv>(kv: &K) -> Verdict {
    let tx = kv.begin(&[PAIRS], Mode::Write).await.map_err(lost)?;
    tx.put(PAIRS, row("p", &[(index::OPEN, "p")], "1"));
    same!(tx.get(PAIRS, "p").await.map(|row| row.is_some()), Ok(true));
    same!(
        tx.in_index(PAIRS, index::OPEN, "", 9)
            .await
            .map(|rows| rows.len()),
        Ok(1)
    );
    tx.delete(PAIRS, "p");
    same!(
        tx.in_index(PAIRS, index::OPEN, "", 9)
            .await
            .map(|rows| rows.len()),
        Ok(0)
    );
    tx.commit().await.map_err(lost)
}

async fn a_replaced_row_leaves_its_old_places<K: Kv>(kv: &K) -> Verdict {
    write(
        kv,
        TAIL,
        vec![row("e", &[(index::ABOUT, "x"), (index::UNSENT, "1")], "1")],
    )
    .await?;
    write(kv, TAIL, vec![row("e", &[(index::ABOUT, "y")], "2")]).await?;
    let tx = kv.begin(&[TAIL], Mode::Read).await.map_err(lost)?;
    let found = tx
        .keys_by_index(TAIL, index::ABOUT, &texts(&["x", "y"]))
        .await
        .map_err(lost)?;
    same!(found, vec![texts(&[]), texts(&["e"])]);
    same!(tx.in_index(TAIL, index::UNSENT, "", 9).await, Ok(Vec::new()));
    Ok(())
}

async fn a_row_is_found_under_each_of_its_values<K: Kv>(kv: &K) -> Verdict {
    let both = row("1", &[(index::ABOUT, "x"), (index::ABOUT, "y")], "both");
    let none = row("2", &[], "none");
    write(kv, BLOCKS, vec![both, none]).await?;
    let tx = kv.begin(&[BLOCKS], Mode::Read).await.map_err(lost)?;
    let found = tx
        .by_index(BLOCKS, index::ABOUT, &texts(&["y", "x", "z"]))
        .await
        .map_err(lost)?;
    let bare = || vec![row("1", &[], "both")];
    same!(found, vec![bare(), bare(), Vec::new()]);
    Ok(())
}

async fn rows_come_in_order_of_key<K: Kv>(kv: &K) -> Verdict {
    let rows = ["b", "a", "d", "c"].map(|key| row(key, &[], key)).to_vec();
    write(kv, META, rows).await?;
    let tx = kv.begin(&[META], Mode::Read).await.map_err(lost)?;
    let page = |rows: Vec<Row>| keys(&rows).join("");
    same!(tx.after(META, "", 2).await.map(page), Ok("ab".to_owned()));
    same!(tx.after(META, "b", u32::MAX).await.map(page), Ok("cd".to_owned()));
    same!(tx.after(META, "bb", 9).await.map(page), Ok("cd".to_owned()));
    same!(tx.after(META, "d", 9).await.map(page), Ok(String::new()));
    Ok(())
}

async fn rows_come_in_order_of_value<K: Kv>(kv: &K) -> Verdict {
    let rows = [("a", "3"), ("b", "1"), ("c", "2"), ("d", "2")];
    write(
        kv,
        TAIL,
        rows.map(|(key, value)| row(key, &[(index::UNSENT, value)], key))
            .to_vec(),
    )
    .await?;
    let tx = kv.begin(&[TAIL], Mode::Read).await.map_err(lost)?;
    let page = |rows: Vec<Row>| keys(&rows).join("");
    same!(
        tx.in_index(TAIL, index::UNSENT, "", 3).await.map(page),
        Ok("bcd".to_owned())
    );
    same!(
        tx.in_index(TAIL, index::UNSENT, "1", u32::MAX).await.map(page),
        Ok("cda".to_owned())
    );
    let first = tx.in_index(TAIL, index::UNSENT, "2", 1).await.map_err(lost)?;
    same!(
        first.first().and_then(|row| row.index_value(index::UNSENT)),
        Some("3")
    );
    Ok(())
}

async fn answers_stand_in_the_order_of_the_questions<K: Kv>(kv: &K) -> Verdict {
    let rows = ["a", "b", "c"]
        .map(|key| row(key, &[(index::ABOUT, "x")], key))
        .to_vec();
    write(kv, TAIL, rows).await?;
    let tx = kv.begin(&[TAIL], Mode::Read).await.map_err(lost)?;
    let found = tx
        .get_many(TAIL, &texts(&["c", "z", "a", "c"]))
        .await
        .map_err(lost)?;
    let found: Vec<_> = found
        .iter()
        .map(|row| row.as_ref().map_or("-", |row| row.key.as_str()))
        .collect();
    same!(found, vec!["c", "-", "a", "c"]);
    let under = tx
        .by_index(TAIL, index::ABOUT, &texts(&["x"]))
        .await
        .map_err(lost)?;
    same!(keys(&under.concat()), vec!["a", "b", "c"]);
    same!(tx.get_many(TAIL, &[]).await, Ok(Vec::new()));
    Ok(())
}

async fn many_questions_one_after_another_keep_it_open<K: Kv>(kv: &K) -> Verdict {
    let tx = kv.begin(ALL, Mode::Write).await.map_err(lost)?;
    for number in 0..200 {
        let key = format!("{number:03}");
        same!(tx.get(META, &key).await, Ok(None));
        tx.put(META, row(&key, &[], "x"));
    }
    tx.commit().await.map_err(lost)?;
    let tx = kv.begin(&[META], Mode::Read).await.map_err(lost)?;
    same!(tx.count(META).await, Ok(200));
    Ok(())
}

async fn a_thousand_questions_at_once<K: Kv>(kv: &K) -> Verdict {
    let number = |n: i32| format!("{n:04}");
    let rows = (0..1000)
        .map(|n| row(&number(n), &[(index::ABOUT, &number(n / 2))], "x"))
        .collect();
    write(kv, TAIL, rows).await?;
    let tx = kv.begin(&[TAIL], Mode::Read).await.map_err(lost)?;
    let all: Vec<_> = (0..1000).map(number).collect();
    let found = tx.get_many(TAIL, &all).await.map_err(lost)?;
    same!(found.iter().flatten().count(), 1000);
    let under = tx
        .keys_by_index(TAIL, index::ABOUT, &all[..500])
        .await
        .map_err(lost)?;
    same!(under.concat(), all);
    Ok(())
}

/// Adds one to a number stored in a row.
async fn add_one<K: Kv>(kv: &K) -> Result<(), KvError> {
    let tx = kv.begin(&[META], Mode::Write).await?;
    let row = tx.get(META, "n").await?;
    let number: u32 = row
        .as_ref()
        .and_then(Row::as_text)
        .and_then(|text| text.parse().ok())
        .unwrap_or(0);
    tx.put(META, Row::text("n", (number + 1).to_string()));
    tx.commit().await
}

async fn writers_wait_for_each_other<K: Kv>(kv: &K) -> Verdict {
    let tab = kv.clone();
    let writers = (0..50).map(|n| add_one(if n % 2 == 0 { kv } else { &tab }));
    for written in join_all(writers).await {
        written.map_err(lost)?;
    }
    let tx = kv.begin(&[META], Mode::Read).await.map_err(lost)?;
    same!(tx.get(META, "n").await, Ok(Some(Row::text("n", "50"))));
    Ok(())
}

async fn texts_and_bytes_of_every_kind<K: Kv>(kv: &K) -> Verdict {
    let odd = ["", "\u{0}\n\"\\", "schöne Größe 👞", "\u{feff}x"];
    for (number, text) in odd.iter().enumerate() {
        write(kv, META, vec![row(&format!("{text}{number}"), &[], text)]).await?;
    }
    let empty = Row {
        key: "e".to_owned(),
        indexed: Vec::new(),
        value: RowValue::Bytes(Vec::new()),
    };
    let large = Row {
        key: "l".to_owned(),
        indexed: Vec::new(),
        value: RowValue::Bytes(vec![9; 3_000_000]),
    };
    write(kv, BLOBS, vec![empty.clone(), large.clone()]).await?;
    let tx = kv.begin(&[META, BLOBS], Mode::Read).await.map_err(lost)?;
    for (number, text) in odd.iter().enumerate() {
        let key = format!("{text}{number}");
        same!(tx.get(META, &key).await, Ok(Some(row(&key, &[], text))));
    }
    same!(tx.get(BLOBS, "e").await, Ok(Some(empty)));
    same!(tx.get(BLOBS, "l").await == Ok(Some(large)), true);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::memory::{Memory, in_time};
    use super::*;

    #[test]
    fn the_database_in_memory_keeps_the_contract() {
        for (case, verdict) in in_time(run(|_| Memory::default())) {
            assert_eq!(verdict, Ok(()), "{case}");
        }
    }
}
