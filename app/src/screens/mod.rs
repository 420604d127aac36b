//! The screens, one folder or file each, and the routes between them.

#![expect(
    unreachable_pub,
    reason = "components are `pub` in private files: `#[component]` makes their properties so"
)]

mod ask;
mod bench;
mod calc;
mod camera;
mod collect;
mod compare;
mod complaint;
mod drop_off;
mod job;
mod join;
mod lazy;
mod open_up;
mod pair;
mod pickup;
mod print;
mod records;
mod shop;
mod ticket;
mod with_it;
mod work;

use leptos::prelude::*;
use leptos_router::components::{Route, Router, Routes};
use leptos_router::path;

use lazy::later;

use crate::device::drawings::Drawings;
use crate::device::install::Install;
use crate::device::worker::ServiceWorker;
use crate::parts::{DryNotice, Nav, Say, Viewer};
use crate::selection::Selection;
use crate::session::{Opening, Session};

/// The whole app: the routes, and what every screen shares.
#[component]
pub fn App() -> impl IntoView {
    let session = Session::open();
    provide_context(session);
    provide_context(Selection::new(session));
    provide_context(crate::shop::ShopContext::follow());
    let viewer = Viewer::new();
    provide_context(viewer);
    provide_context(Drawings::not_loaded());
    provide_context(ServiceWorker::start());
    provide_context(Install::watch());
    lazy::fetch_all(session);

    view! {
        <Router>
            <Say/>
            <DryNotice/>
            <main>
                <Show when=move || session.opening().get() != Opening::Opening>
                    <OpeningTrouble/>
                    <Routes fallback=|| view! { <h1>{words::parts::no_such_page()}</h1> }>
                        <Route path=path!("/") view=bench::Bench/>
                        <Route path=path!("/join") view=later(lazy::join_shop)/>
                        <Route path=path!("/drop-off") view=later(lazy::drop_off)/>
                        <Route path=path!("/pair/:id") view=later(lazy::pair)/>
                        <Route path=path!("/pair/:id/compare") view=later(lazy::compare)/>
                        <Route path=path!("/job/:job") view=later(lazy::job)/>
                        <Route path=path!("/reckon/:job/:what") view=later(lazy::calc)/>
                        <Route path=path!("/camera/:job") view=later(lazy::camera)/>
                        <Route path=path!("/pickup/:job") view=later(lazy::pickup)/>
                        <Route path=path!("/ticket/:ticket") view=later(lazy::ticket)/>
                        <Route path=path!("/collect") view=later(lazy::waiting)/>
                        <Route path=path!("/open/:job") view=later(lazy::open_up)/>
                        <Route path=path!("/ask/:job") view=later(lazy::ask)/>
                        <Route path=path!("/complaint/:job") view=later(lazy::complaint)/>
                        <Route path=path!("/records") view=later(lazy::records)/>
                        <Route path=path!("/print/:ticket") view=later(lazy::print)/>
                        <Route path=path!("/shop") view=later(lazy::shop)/>
                        <Route path=path!("/shop/prices") view=later(lazy::prices)/>
                        <Route path=path!("/shop/truth") view=later(lazy::profitability)/>
                        <Route path=path!("/shop/books") view=later(lazy::books)/>
                        <Route path=path!("/shop/shelf") view=later(lazy::shelf)/>
                        <Route path=path!("/shop/bring") view=later(lazy::bring)/>
                        <Route path=path!("/shop/hidden/:goods/:operation") view=later(lazy::hidden)/>
                    </Routes>
                </Show>
            </main>
            <Show when=move || viewer.is_used()>{later(lazy::photograph_viewer)()}</Show>
            <Nav/>
        </Router>
    }
}

/// Says why the store cannot be opened. Nothing else works then, and nothing is lost.
#[component]
fn OpeningTrouble() -> impl IntoView {
    let session = crate::session::use_session();
    move || match session.opening().get() {
        Opening::Failed(why) => Some(view! {
            <section class="card bad" role="alert">
                <h2>{words::device::records_not_opened()}</h2>
                <p>{why}</p>
                <p>{words::device::records_still_there()}</p>
            </section>
        }),
        _ => None,
    }
}
