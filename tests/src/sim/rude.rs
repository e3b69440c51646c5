//! A client that breaks the rules: each manner must get its code, and change nothing.

use serde_json::value::RawValue;
use server::error::Error;
use shared_types::entry::Entry;
use shared_types::hlc::Hlc;
use shared_types::ids::{DeviceId, EpochId};
use shared_types::units::{HOUR_MS, Millis};
use shared_types::wire::limits::{BATCH_MAX_ENTRIES, CODE_TRIES_MAX, ENTRY_MAX_BYTES};
use shared_types::wire::{ExchangeRequest, RefusalCode, Role, VERSION};

use super::Broken;
use super::deeds::key;
use super::server::Answer;
use super::world::World;

/// How many manners there are.
const MANNERS: u8 = 14;

impl World<'_> {
    pub(super) fn rude(&mut self, manner: u8) -> Result<(), Broken> {
        if self.server_down {
            return Ok(());
        }
        let views = manner % MANNERS == 9;
        let device = DeviceId::new(Millis(0), [if views { 98 } else { 99 }; 10]);
        let role = if views { Role::Viewer } else { Role::Owner };
        let Ok(enrolled) = self.server.let_in(device, role, self.now) else { return Ok(()) };
        let entry = |device, device_seq, payload: &str| Entry {
            device,
            device_seq,
            hlc: Hlc(self.now, 0),
            kind: "guess-made".into(),
            kind_version: 1,
            payload: RawValue::from_string(payload.into()).expect("is JSON"),
        };
        let held = self.server.held(device);
        let next = held + 1;
        let mut request = ExchangeRequest {
            v: VERSION,
            epoch: Some(self.server.epoch()),
            cursor: self.server.latest(),
            entries: vec![entry(device, next, "{}")],
        };
        let mut token = enrolled.token;
        let mut garbage = None;
        let code = match manner % MANNERS {
            0 => {
                request.entries[0].device = self.devices[0].me.device;
                "device_mismatch"
            }
            1 => {
                let many = next..next + BATCH_MAX_ENTRIES as u64 + 1;
                request.entries = many.map(|n| entry(device, n, "{}")).collect();
                "batch_too_large"
            }
            2 => {
                let long = format!("\"{}\"", "x".repeat(ENTRY_MAX_BYTES));
                request.entries = vec![entry(device, next, &long)];
                "entry_too_large"
            }
            3 => {
                request.entries[0].device_seq = 0;
                "malformed"
            }
            4 => {
                request.v = 0;
                "app_too_old"
            }
            5 => {
                request.v = VERSION + 1;
                "server_too_old"
            }
            6 => {
                request.entries[0].device_seq = next + 4;
                "gap"
            }
            7 => {
                token = "lb_never-given".into();
                "token_unknown"
            }
            8 => return self.guess_codes(device),
            9 => "forbidden",
            10 => {
                request.cursor += 1;
                "cursor_ahead"
            }
            11 => {
                request.epoch = Some(EpochId::new(Millis(0), [66; 10]));
                "epoch_changed"
            }
            12 => {
                request.entries[0].hlc.0 = self.now.plus(25 * HOUR_MS);
                "clock_ahead"
            }
            _ => {
                garbage = Some(&b"{\"v\":1,\"entries\":[{}]}"[..]);
                "malformed"
            }
        };
        let body = serde_json::to_vec(&request).expect("a request is written as JSON");
        let before = self.server.latest();
        let answer =
            self.server.exchange(&token, garbage.unwrap_or(&body), self.now, Self::PLUG_IN);
        let Answer::Refused(refusal) = answer else {
            return Err(Broken(format!("a rude client was let do what is `{code}`")));
        };
        self.report.refused(&refusal.code);
        self.count("Rude");
        let got = super::report::code_name(&refusal.code);
        if got != code && got != "storage_failed" {
            return Err(Broken(format!("a rude client got `{got}` for what is `{code}`")));
        }
        if self.server.latest() != before {
            return Err(Broken(format!("`{code}` left something in the log")));
        }
        debug_assert!(request.entries.iter().all(|e| !self.committed.contains_key(&key(e))));
        Ok(())
    }

    fn guess_codes(&mut self, device: DeviceId) -> Result<(), Broken> {
        let guesser = DeviceId(uuid::Uuid::from_u128(device.0.as_u128() + 1));
        let mut last = None;
        for _ in 0..=CODE_TRIES_MAX {
            let tried = self.server.guess_code(guesser, self.now);
            let Err(refused) = tried else {
                return Err(Broken("a code that was never made let someone in".into()));
            };
            if let Error::Refused(refusal) = &refused {
                self.report.refused(&refusal.code);
            }
            last = Some(refused.refusal().code);
        }
        self.count("Rude");
        match last {
            Some(RefusalCode::SlowDown { .. }) => Ok(()),
            other => Err(Broken(format!("codes can be guessed without end: {other:?}"))),
        }
    }
}
