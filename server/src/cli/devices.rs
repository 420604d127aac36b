//! `waxend devices`.

use super::{CliError, existing, one_line, say};
use crate::config::{Cli, DevicesAction};
use server_core::store::DeviceRow;
use shared::sync::version;

/// Lists the devices, or revokes one.
pub(super) async fn devices(cli: &Cli, action: Option<&DevicesAction>) -> Result<(), CliError> {
    let shop = existing(cli)?.open().await?;
    let devices = shop.devices().await?;
    match action {
        None => list(&devices),
        Some(DevicesAction::Revoke { device }) => {
            let named =
                |row: &&DeviceRow| row.letters.eq_ignore_ascii_case(device) || row.id.to_string() == *device;
            let row = devices
                .iter()
                .find(named)
                .ok_or_else(|| CliError::NoDevice(device.clone()))?;
            shop.revoke(row.id).await?;
            say(&format!(
                "{} ({}) is shut out. What it has not sent yet stays on it.",
                row.letters,
                one_line(&row.name)
            ));
        }
    }
    shop.store().close().await;
    Ok(())
}

fn list(devices: &[DeviceRow]) {
    if devices.is_empty() {
        say("No device has joined yet. Make a code with `waxend join`.");
    }
    for row in devices {
        let state = if row.revoked.is_some() {
            "shut out"
        } else {
            "joined"
        };
        let app = match row.app.as_deref() {
            Some(app) if version::is_too_old(Some(app)) => format!("app {app}, too old"),
            Some(app) => format!("app {app}"),
            None => "app unknown".to_owned(),
        };
        say(&format!(
            "{:<3} {}  {state:<8}  {app:<20}  {}",
            row.letters,
            row.id,
            one_line(&row.name)
        ));
    }
}
