//! What goes wrong with devices and server, besides single calls.

use shared_types::ids::EpochId;
use shared_types::units::{HOUR_MS, MINUTE_MS};

use super::device::Armed;
use super::world::{Ev, World};
use super::{Broken, Trouble, What};

impl World<'_> {
    pub(super) fn trouble(&mut self, Trouble(_, device, what): Trouble) -> Result<(), Broken> {
        let d = device % self.devices.len();
        let name = Self::name_of(what);
        match what {
            What::Partition(minutes) => {
                self.devices[d].cut_until = self.now.plus(i64::from(minutes) * MINUTE_MS);
            }
            What::KillBeforeStore => self.devices[d].armed = Some(Armed::Before),
            What::KillAfterStore => self.devices[d].armed = Some(Armed::After),
            What::QuotaFull => self.devices[d].quota_full = true,
            What::Evict => self.evict(d),
            What::Lose => {
                // Somebody has to be left, or there is nothing to look at.
                if self.devices.iter().filter(|device| !device.gone).count() < 2 {
                    return Ok(());
                }
                self.stop(d);
                self.devices[d].gone = true;
                let fresh = self.fresh();
                self.devices[d].forget_all(fresh);
                self.recount_destroyed();
            }
            What::Clone => {
                let is_empty = self.devices[d].disk.load().meta.is_none();
                if is_empty || self.devices[d].evicted || self.devices.len() > self.case.devices + 3
                {
                    return Ok(());
                }
                let copy = self.devices[d].copied();
                for key in &copy.ever {
                    *self.committed.entry(key.clone()).or_default() += 1;
                }
                self.devices.push(copy);
                let copy = self.devices.len() - 1;
                self.at(MINUTE_MS, Ev::Open(copy));
            }
            What::ClockJump(hours) => self.devices[d].clock_off = i64::from(hours) * HOUR_MS,
            What::OldApp => {
                self.devices[d].old = true;
                self.stop(d);
                self.open(d)?;
            }
            What::ServerCrash(seconds) => {
                if self.server_down {
                    return Ok(());
                }
                self.crash(seconds)?;
            }
            What::ServerFull(minutes) => {
                self.server.set_full(true);
                self.at(i64::from(minutes) * MINUTE_MS, Ev::ServerHasRoom);
            }
            What::Backup => self.server.back_up(),
            What::Restore(copy) => {
                let mut random = [4; 10];
                random[..8].copy_from_slice(&self.now.0.to_be_bytes());
                let epoch = EpochId::new(self.now, random);
                if !self.put_back(copy, Some(epoch)) {
                    return Ok(());
                }
            }
            What::CopyBack(copy) => {
                if !self.put_back(copy, None) {
                    return Ok(());
                }
            }
            What::Expire => self.server.expire(),
            What::Rude(manner) => return self.rude(manner),
        }
        self.count(name);
        Ok(())
    }

    fn evict(&mut self, d: usize) {
        if self.devices[d].engine.is_some() {
            self.devices[d].disk = shared_types::engine::MemoryDisk::default();
            self.devices[d].evicted = true;
        } else {
            let fresh = self.fresh();
            self.devices[d].forget_all(fresh);
            self.recount_destroyed();
        }
    }

    fn put_back(&mut self, copy: u8, epoch: Option<EpochId>) -> bool {
        let done = self.server.put_back(copy, epoch);
        if done {
            self.server_life += 1;
            self.promised.clear();
            self.recount_destroyed();
        }
        done
    }
}
