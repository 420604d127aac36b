//! Sentences of the question to a customer about hidden damage.

use crate::sentence::sentences;

sentences! {
    ask_the_customer() { "Ask the customer" }
    no_such_job() { "This job is not on this device. Sync in Shop, or find the pair in Records." }
    ask_about() { "Ask about" }
    ask_something_else() { "Ask something else" }
    answered() { "Answered" }
    camera() { "Camera" }
    opening_up() { "Opening up" }
    work() { "Work" }

    next_question() { "The next question" }
    ask() { "Ask" }
    photograph_that_goes_with_it() { "The photograph that goes with it" }
    what_is_asked() { "What is asked" }
    send_picture_and_text() { "Send picture and text" }
    write_a_message() { "Write a message" }
    i_have_asked() { "I have asked" }
    asked_and_held() { "Asked. The pair is held until there is an answer." }
    send_from_downloads_and_held() {
        "There is no share sheet here: send question.jpg from the downloads. \
         The pair is held until there is an answer."
    }
    what_the_customer_reads() { "What the customer reads" }
    year_of_wear_costs_least_with(choice: &str) { "A year of wear costs least with: {choice}." }
    prices_worked_out_at(target: &str) { "Prices are worked out at {target} an hour." }
    prices_of_the_list() {
        "Prices are those of the list. With an hourly target, in Shop, they are worked out."
    }
    question_about(pair: &str) { "About your {pair}: " }
    question_about_finding(pair: &str, finding: &str) { "About your {pair}. {finding} What shall we do?" }

    leave_as_it_is() { "Leave as it is" }
    how_it_is_worked_out() { "How it is worked out" }
    first_choice() { "First choice" }
    price_of_the_first() { "Price of the first" }
    minutes_of_the_first() { "Minutes of the first" }
    material_of_the_first() { "Material of the first" }
    months_the_first_lasts() { "Months the first lasts" }
    second_choice() { "Second choice" }
    price_of_the_second() { "Price of the second" }
    minutes_of_the_second() { "Minutes of the second" }
    material_of_the_second() { "Material of the second" }
    months_the_second_lasts() { "Months the second lasts" }
    third_choice() { "Third choice" }
    price_of_the_third() { "Price of the third" }
    minutes_of_the_third() { "Minutes of the third" }
    material_of_the_third() { "Material of the third" }
    months_the_third_lasts() { "Months the third lasts" }

    open_question() { "Open question" }
    asked_at(time: &str) { "Asked {time}" }
    nobody_was_reached(time: &str) { "Nobody was reached, {time}" }
    to_be_called_again(time: &str) { "To be called again: {time}" }
    yes_to(choice: &str) { "Yes: {choice}" }
    yes_at_price(choice: &str, price: &str) { "Yes: {choice}, {price}" }
    agreed(choice: &str) { "Agreed: {choice}." }
    no_only_the_agreed_work() { "No, only the agreed work" }
    answered_no() { "Answered: no." }
    nobody_answered() { "Nobody answered" }
    nobody_answered_and_held() { "Nobody answered; the pair is held." }
    stop_the_job() { "Stop the job" }
    give_it_back_as_it_is() { "Give it back as it is" }
    goes_back_as_it_is() { "It goes back as it is." }
    call_again() { "Call again" }
    another_time() { "Another time" }
    call_again_then() { "Call again then" }
    when_to_call_again() { "When shall they be called again?" }
    noted_to_be_called_again(time: &str) { "To be called again: {time}." }
    this_afternoon() { "this afternoon" }
    this_evening() { "this evening" }
    tomorrow_morning() { "tomorrow morning" }
    after_the_weekend() { "after the weekend" }
}
