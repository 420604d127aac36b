//! What every store must do, as test functions that run on any store.

pub mod aside;
pub mod check;
pub mod log;
pub mod outline;
pub mod rest;
pub mod rights;
pub mod subjects;

/// Runs the contract tests on stores that `$fresh` makes: an async function that returns a value to keep alive during
/// the test, and an empty store with shop 1 and epoch 2.
#[macro_export]
macro_rules! store_contract {
    ($fresh:path) => {
        $crate::store_contract!($fresh;
            log: a_fresh_store_is_empty, what_is_dropped_never_happened, entries_come_back_as_they_went_in,
            writers_wait_for_each_other, a_reader_sees_one_state, the_feed_runs_in_order_and_stops_at_its_budget,
            history_runs_newest_subject_first, blanking_empties_and_unlinks, lowering_and_numbering_again;
            subjects: everything_about_a_subject, jobs_here_are_opened_and_not_handed_over, links_stay_with_their_first_pair,
            blobs_are_awaited_until_they_come;
            rest: blobs_come_and_go, devices_are_replaced, tokens_are_replaced_and_found_by_their_device,
            join_codes_are_replaced_and_forgotten, join_codes_of_a_device_are_voided, a_write_on_trial_changes_nothing;
            rights: what_an_entry_names_is_found_without_its_body, retractions_are_those_of_their_subjects,
            requests_come_in_the_order_of_their_arrival, counted_erasures_are_replaced;
            aside: what_is_kept_aside_comes_back_as_it_went_in, what_was_dropped_has_no_content,
            what_was_forgotten_can_be_kept_again;
            outline: an_outline_has_what_is_asked_for_and_what_replaces, an_outline_stops_at_its_budget,
            one_subject_is_read_in_parts;
            check: a_sound_store_has_no_faults, the_check_reads_every_entry_in_order, a_changed_entry_is_intact,
            derived_rows_are_those_of_their_range
        );
    };
    ($fresh:path; $($room:ident: $($test:ident),+);+) => {
        $($(
            #[tokio::test]
            async fn $test() {
                let (_kept, store) = $fresh().await;
                $crate::contract::$room::$test(store).await;
            }
        )+)+
    };
}
