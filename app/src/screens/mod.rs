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
mod print;
mod reckon;
mod records;
mod shop;
mod ticket;
mod work;

use leptos::prelude::*;
use leptos_router::components::{Route, Router, Routes};
use leptos_router::path;

use crate::device::install::Install;
use crate::device::worker::Worker;
use crate::parts::{DryNotice, Nav, PhotographViewer, Say, Viewer};
use crate::workbench::Workbench;
use crate::workshop::{Opening, Workshop};

/// The whole app: the routes, and what every screen shares.
#[component]
pub fn App() -> impl IntoView {
    let workshop = Workshop::open();
    provide_context(workshop);
    provide_context(Workbench::new(workshop));
    provide_context(crate::shop::Shop::follow());
    provide_context(Viewer::new());
    provide_context(Worker::start());
    provide_context(Install::watch());

    view! {
        <Router>
            <Say/>
            <DryNotice/>
            <main>
                <Show when=move || workshop.opening().get() != Opening::Opening>
                    <OpeningTrouble/>
                    <Routes fallback=|| view! { <h1>"There is no such page."</h1> }>
                        <Route path=path!("/") view=bench::Bench/>
                        <Route path=path!("/join") view=join::Join/>
                        <Route path=path!("/drop-off") view=drop_off::DropOff/>
                        <Route path=path!("/pair/:id") view=pair::Pair/>
                        <Route path=path!("/pair/:id/compare") view=compare::Compare/>
                        <Route path=path!("/job/:job") view=work::Work/>
                        <Route path=path!("/reckon/:job/:what") view=reckon::Reckon/>
                        <Route path=path!("/camera/:job") view=camera::Camera/>
                        <Route path=path!("/pickup/:job") view=pickup::Pickup/>
                        <Route path=path!("/ticket/:ticket") view=collect::Collect/>
                        <Route path=path!("/collect") view=collect::Waiting/>
                        <Route path=path!("/open/:job") view=open_up::OpenUp/>
                        <Route path=path!("/ask/:job") view=ask::Ask/>
                        <Route path=path!("/complaint/:job") view=complaint::Complaint/>
                        <Route path=path!("/records") view=records::Records/>
                        <Route path=path!("/print/:ticket") view=print::Print/>
                        <Route path=path!("/shop") view=shop::Shop/>
                        <Route path=path!("/shop/prices") view=shop::PriceList/>
                        <Route path=path!("/shop/truth") view=shop::PriceTruth/>
                        <Route path=path!("/shop/books") view=shop::TheBooks/>
                        <Route path=path!("/shop/materials") view=shop::Materials/>
                        <Route path=path!("/shop/hidden/:goods/:operation") view=shop::Hidden/>
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
