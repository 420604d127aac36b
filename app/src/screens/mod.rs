//! The screens, one folder or file each, and the routes between them.

#![expect(
    unreachable_pub,
    reason = "components are `pub` in private files: `#[component]` makes their properties so"
)]

mod ask;
mod bench;
mod camera;
mod collect;
mod compare;
mod complaint;
mod drop_off;
mod job;
mod join;
mod open_up;
mod pair;
mod pickup;
mod pieces;
mod print;
mod reckon;
mod records;
mod shop;
mod ticket;
mod work;

use leptos::prelude::*;
use leptos_router::components::{Route, Router, Routes};
use leptos_router::path;

use pieces::later;

use crate::device::install::Install;
use crate::device::worker::ServiceWorker;
use crate::parts::{DryNotice, Nav, PhotographViewer, Say, Viewer};
use crate::workbench::Workbench;
use crate::workshop::{Opening, Workshop};

/// The whole app: the routes, and what every screen shares.
#[component]
pub fn App() -> impl IntoView {
    let workshop = Workshop::open();
    provide_context(workshop);
    provide_context(Workbench::new(workshop));
    provide_context(crate::shop::ShopContext::follow());
    provide_context(Viewer::new());
    provide_context(ServiceWorker::start());
    provide_context(Install::watch());
    pieces::fetch_all(workshop);

    view! {
        <Router>
            <Say/>
            <DryNotice/>
            <main>
                <Show when=move || workshop.opening().get() != Opening::Opening>
                    <OpeningTrouble/>
                    <Routes fallback=|| view! { <h1>"There is no such page."</h1> }>
                        <Route path=path!("/") view=bench::Bench/>
                        <Route path=path!("/join") view=later(pieces::join_shop)/>
                        <Route path=path!("/drop-off") view=later(pieces::drop_off)/>
                        <Route path=path!("/pair/:id") view=later(pieces::pair)/>
                        <Route path=path!("/pair/:id/compare") view=later(pieces::compare)/>
                        <Route path=path!("/job/:job") view=later(pieces::job)/>
                        <Route path=path!("/reckon/:job/:what") view=later(pieces::reckon)/>
                        <Route path=path!("/camera/:job") view=later(pieces::camera)/>
                        <Route path=path!("/pickup/:job") view=later(pieces::pickup)/>
                        <Route path=path!("/ticket/:ticket") view=later(pieces::ticket)/>
                        <Route path=path!("/collect") view=later(pieces::waiting)/>
                        <Route path=path!("/open/:job") view=later(pieces::open_up)/>
                        <Route path=path!("/ask/:job") view=later(pieces::ask)/>
                        <Route path=path!("/complaint/:job") view=later(pieces::complaint)/>
                        <Route path=path!("/records") view=later(pieces::records)/>
                        <Route path=path!("/print/:ticket") view=later(pieces::print)/>
                        <Route path=path!("/shop") view=later(pieces::shop)/>
                        <Route path=path!("/shop/prices") view=later(pieces::prices)/>
                        <Route path=path!("/shop/truth") view=later(pieces::truth)/>
                        <Route path=path!("/shop/books") view=later(pieces::books)/>
                        <Route path=path!("/shop/materials") view=later(pieces::materials)/>
                        <Route path=path!("/shop/hidden/:goods/:operation") view=later(pieces::hidden)/>
                    </Routes>
                </Show>
            </main>
            <PhotographViewer/>
            <Nav/>
        </Router>
    }
}

/// Says why the records cannot be opened; nothing else works then, and nothing is lost.
#[component]
fn OpeningTrouble() -> impl IntoView {
    let workshop = crate::workshop::use_workshop();
    move || match workshop.opening().get() {
        Opening::Failed(why) => Some(view! {
            <section class="card bad" role="alert">
                <h2>"The records on this device cannot be opened now"</h2>
                <p>{why}</p>
                <p>"They are still there. Close other tabs of this app and open it again."</p>
            </section>
        }),
        _ => None,
    }
}
