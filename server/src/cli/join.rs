//! `waxend join`.

use qrcode::QrCode;
use qrcode::render::unicode::Dense1x2;

use super::{CliError, folder, may_begin, say};
use crate::config::{Cli, DeviceRole, JoinArgs};
use server_core::error::Error;

/// The default address of a server; used when none has run on the data folder yet.
const HERE: &str = "http://127.0.0.1:8020";

/// Makes a join code and shows it as text and as a QR code.
pub(super) async fn join(cli: &Cli, args: &JoinArgs) -> Result<(), CliError> {
    let data = folder(cli)?;
    may_begin(&data)?;
    let shop = data.open().await?;
    let code = match shop.join_code(args.role.into()).await {
        Err(Error::LastRepairer) => return Err(CliError::NoRepairer),
        made => made?.code,
    };
    let url = cli.url.clone().or_else(|| data.address());
    let link = link(url.as_deref().unwrap_or(HERE), &code);
    if let Ok(qr) = QrCode::new(&link) {
        say(&qr.render::<Dense1x2>().build());
    }
    let whose = match args.role {
        DeviceRole::Repairer => "one device",
        DeviceRole::Helper => "one helper's device",
    };
    say(&format!(
        "Join code: {code}\nGood for ten minutes, for {whose}. Type it in the app, or open\n{link}"
    ));
    shop.store().close().await;
    Ok(())
}

/// The link that opens the app with the code filled in. The code stands after `#`, so browsers do not send it to the
/// server and it is in no server log.
pub(super) fn link(url: &str, code: &str) -> String {
    format!("{}/join#code={code}", url.trim_end_matches('/'))
}
