//! `waxend devices`.

use super::{CliError, existing, one_line, say};
use crate::config::{Cli, DevicesAction};
use server_core::store::DeviceRow;
use shared::log::body::Role;
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
            say(&shut_out(row, &shop.devices().await?));
        }
    }
    shop.store().close().await;
    Ok(())
}

/// What is said of a device that was shut out. `devices` are all of them afterwards.
fn shut_out(row: &DeviceRow, devices: &[DeviceRow]) -> String {
    let mut said = format!(
        "{} ({}) is shut out. When it next reaches this server, it deletes what the server has; what it has not sent yet \
         stays on it.",
        row.letters,
        one_line(&row.name)
    );
    let lets_in = |device: &DeviceRow| device.revoked.is_none() && device.role == Role::Repairer;
    if !devices.iter().any(lets_in) {
        said += " No repairer's device is left: `waxend join` lets one in again.";
    }
    said
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
            "{:<3} {}  {state:<8}  {:<8}  {app:<20}  {}",
            row.letters,
            row.id,
            one_line(row.role.as_str()),
            one_line(&row.name)
        ));
    }
}
