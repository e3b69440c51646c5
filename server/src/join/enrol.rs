//! The rules of joining.

use rusqlite::Connection;
use shared_types::ids::DeviceId;
use shared_types::units::Millis;
use shared_types::wire::limits::NAME_MAX_CHARS;
use shared_types::wire::{EnrolRequest, Enrolled, Refusal, RefusalCode, Role};

use super::code::hash_typed;
use super::{Token, Tries};
use crate::error::Error;
use crate::store::{Device, codes, devices, meta, sensors};

/// Lets a device in by a code, or in again with its earlier id: so a phone that was shut out, or
/// lost its token, comes back with what it still has to send. Runs inside a transaction of the
/// caller's.
///
/// # Errors
/// `malformed`, `slow_down`, `code_wrong`, `forbidden`, or a failure of the database.
pub fn enrol(
    tx: &Connection,
    tries: &mut Tries,
    request: &EnrolRequest,
    token: &Token,
    now: Millis,
) -> Result<Enrolled, Error> {
    let name = checked_name(&request.name)?;
    tries.check(now)?;
    let code = match hash_typed(&request.code) {
        Some(code_hash) => codes::take(tx, &code_hash, now)?,
        None => None,
    };
    let Some(code) = code else {
        tries.count_wrong(now);
        return Err(RefusalCode::CodeWrong.into());
    };
    let role = if devices::is_empty(tx)? {
        Role::Owner
    } else {
        role_of(devices::by_id(tx, request.device)?.as_ref(), code.role)?
    };
    let device = Device {
        device: request.device,
        person: request.person,
        name: name.to_owned(),
        role,
        enrolled: now,
        seen: None,
        revoked: None,
        renewed_from: None,
    };
    devices::put(tx, &device, &token.hash())?;
    tracing::info!(device = %device.device, ?role, "device.enrolled");
    enrolled(tx, &device, token)
}

/// What a device that comes with a code for `code` may do; `known` is the row of its id.
///
/// Device ids are no secret, so an id alone must not give back more than the code does; but an
/// owner whose first answer was lost on the way asks again with the same code.
fn role_of(known: Option<&Device>, code: Role) -> Result<Role, Error> {
    match known {
        None => Ok(code),
        Some(device) if device.revoked.is_some() => Ok(code),
        Some(device) if device.seen.is_none() => Ok(device.role.max(code)),
        Some(device) if device.role == Role::Owner && code < Role::Owner => {
            Err(Error::Refused(Refusal {
                code: RefusalCode::Forbidden,
                message: "this device is an owner's: join again with an owner's code, made at \
                          the house with `lugbook code --role owner`"
                    .into(),
            }))
        }
        Some(_) => Ok(code),
    }
}

/// Gives the device `from` the new id `device`, for the same person in the same role. The earlier
/// id keeps its token, because its twin may be the one who uses it. Asking twice, because the
/// first answer was lost, gives a new token for the same id.
///
/// # Errors
/// `malformed` when the id is another device's, or a failure of the database.
pub fn renew(
    tx: &Connection,
    from: &Device,
    device: DeviceId,
    token: &Token,
    now: Millis,
) -> Result<Enrolled, Error> {
    let known = devices::by_id(tx, device)?;
    let is_free = known.is_none_or(|known| {
        known.renewed_from == Some(from.device) && known.seen.is_none() && known.revoked.is_none()
    });
    if !is_free {
        let reason = "this device id is taken: make another".into();
        return Err(RefusalCode::Malformed { reason }.into());
    }
    let renewed = Device {
        device,
        enrolled: now,
        seen: None,
        revoked: None,
        renewed_from: Some(from.device),
        ..from.clone()
    };
    devices::put(tx, &renewed, &token.hash())?;
    tracing::info!(%device, from = %from.device, "device.renewed");
    enrolled(tx, &renewed, token)
}

/// Lets a sensor in: it may send readings and nothing else. `nobody` is a token that is thrown
/// away, so that no phone's token is a sensor's.
///
/// # Errors
/// `malformed` for a name that cannot be shown, or a failure of the database.
pub fn let_sensor_in(
    tx: &Connection,
    sensor: DeviceId,
    name: &str,
    token: &Token,
    nobody: &Token,
    now: Millis,
) -> Result<(), Error> {
    Ok(sensors::put(tx, sensor, checked_name(name)?, token, nobody, now)?)
}

fn enrolled(tx: &Connection, device: &Device, token: &Token) -> Result<Enrolled, Error> {
    Ok(Enrolled {
        device: device.device,
        token: token.reveal().to_owned(),
        role: device.role,
        epoch: meta::epoch(tx)?,
    })
}

fn checked_name(name: &str) -> Result<&str, RefusalCode> {
    let name = name.trim();
    let reason = match name.chars().count() {
        0 => "the name is empty: say who joins".to_owned(),
        n if n > NAME_MAX_CHARS => {
            format!("the name has {n} characters, at most {NAME_MAX_CHARS} are kept: shorten it")
        }
        _ if name.contains(char::is_control) => {
            "the name has signs that cannot be shown: type it again".to_owned()
        }
        _ => return Ok(name),
    };
    Err(RefusalCode::Malformed { reason })
}

#[cfg(test)]
mod tests {
    use shared_types::ids::{EpochId, PersonId};
    use shared_types::wire::VERSION;
    use shared_types::wire::limits::{CODE_LIFE_MS, CODE_TRIES_MAX, CODE_WINDOW_MS};

    use super::super::make_code;
    use super::*;
    use crate::store::open_in_memory;

    const NOW: Millis = Millis(1_800_000_000_000);

    struct House {
        conn: Connection,
        tries: Tries,
        tokens: u8,
    }

    fn house() -> House {
        let conn = open_in_memory(EpochId::new(NOW, [1; 10])).unwrap();
        House { conn, tries: Tries::default(), tokens: 0 }
    }

    fn id(n: u8) -> DeviceId {
        DeviceId::new(NOW, [n; 10])
    }

    impl House {
        fn code(&self, role: Role, random: u8) -> String {
            make_code(&self.conn, role, 2, [random; 5], NOW).unwrap().code
        }

        fn join(&mut self, n: u8, code: &str, now: Millis) -> Result<Enrolled, RefusalCode> {
            self.join_named(n, code, "Ida", now)
        }

        fn join_named(
            &mut self,
            n: u8,
            code: &str,
            name: &str,
            now: Millis,
        ) -> Result<Enrolled, RefusalCode> {
            self.tokens += 1;
            let request = EnrolRequest {
                v: VERSION,
                code: code.into(),
                name: name.into(),
                device: id(n),
                person: PersonId::new(NOW, [n; 10]),
            };
            let token = Token::new([self.tokens; 32]);
            enrol(&self.conn, &mut self.tries, &request, &token, now)
                .map_err(|error| error.refusal().code)
        }

        fn device(&self, enrolled: &Enrolled) -> Option<Device> {
            devices::by_token(&self.conn, &Token::sent(&enrolled.token).hash()).unwrap()
        }
    }

    #[test]
    fn the_first_owns_and_the_others_help() {
        let mut house = house();
        let code = house.code(Role::Helper, 1);
        let first = house.join(1, &code, NOW).unwrap();
        let second = house.join(2, &code, NOW).unwrap();
        assert_eq!((first.role, second.role), (Role::Owner, Role::Helper));
        assert_eq!(house.join(3, &code, NOW), Err(RefusalCode::CodeWrong), "used up");
        assert_eq!(house.device(&second).unwrap().device, id(2));
    }

    #[test]
    fn a_code_has_its_time() {
        let mut house = house();
        let code = house.code(Role::Helper, 1);
        let end = NOW.plus(CODE_LIFE_MS);
        assert_eq!(house.join(1, &code, end.plus(1)), Err(RefusalCode::CodeWrong));
        assert!(house.join(1, &code, end).is_ok());
    }

    #[test]
    fn guessing_gains_nothing() {
        let mut house = house();
        let code = house.code(Role::Helper, 1);
        for _ in 0..CODE_TRIES_MAX {
            assert_eq!(house.join(1, "0000-0000", NOW), Err(RefusalCode::CodeWrong));
        }
        let rest = RefusalCode::SlowDown { retry_ms: CODE_WINDOW_MS };
        assert_eq!(house.join(1, &code, NOW), Err(rest), "the right code rests too");
        assert!(house.join(1, &code, NOW.plus(CODE_WINDOW_MS)).is_ok());
    }

    #[test]
    fn a_name_is_asked_for_before_a_code_is_used_up() {
        let mut house = house();
        let code = make_code(&house.conn, Role::Helper, 1, [1; 5], NOW).unwrap().code;
        let long = "é".repeat(NAME_MAX_CHARS + 1);
        for name in ["", "   ", &long, "I\u{7}da"] {
            let refused = house.join_named(1, &code, name, NOW);
            assert!(matches!(refused, Err(RefusalCode::Malformed { .. })), "{name}");
        }
        house.join_named(1, &code, &long[..NAME_MAX_CHARS * 2], NOW).unwrap();
    }

    #[test]
    fn a_phone_that_was_shut_out_comes_back_with_its_id() {
        let mut house = house();
        let code = house.code(Role::Helper, 1);
        house.join(1, &code, NOW).unwrap();
        let before = house.join(2, &code, NOW).unwrap();
        assert!(devices::revoke(&house.conn, id(2), NOW).unwrap());
        assert!(house.device(&before).unwrap().revoked.is_some());
        let code = house.code(Role::Helper, 2);
        let after = house.join(2, &code, NOW).unwrap();
        assert_eq!(house.device(&before), None, "the earlier token stopped working");
        assert_eq!(house.device(&after).unwrap().revoked, None);
    }

    #[test]
    fn an_id_gives_back_no_more_than_the_code() {
        let seen = |role| Device {
            device: id(1),
            person: PersonId::new(NOW, [1; 10]),
            name: "Ida".into(),
            role,
            enrolled: NOW,
            seen: Some(NOW),
            revoked: None,
            renewed_from: None,
        };
        let unseen = |role| Device { seen: None, ..seen(role) };
        let revoked = |role| Device { revoked: Some(NOW), ..seen(role) };
        use Role::{Helper, Owner, Viewer};
        for (what, known, code, role) in [
            ("new", None, Helper, Some(Helper)),
            ("an owner's phone by a helper's code", Some(seen(Owner)), Helper, None),
            ("an owner's phone by an owner's code", Some(seen(Owner)), Owner, Some(Owner)),
            ("an owner whose answer was lost", Some(unseen(Owner)), Helper, Some(Owner)),
            ("an owner who was shut out", Some(revoked(Owner)), Helper, Some(Helper)),
            ("a helper by a helper's code", Some(seen(Helper)), Helper, Some(Helper)),
            ("a helper by a viewer's code", Some(seen(Helper)), Viewer, Some(Viewer)),
            ("a viewer raised", Some(seen(Viewer)), Owner, Some(Owner)),
        ] {
            assert_eq!(role_of(known.as_ref(), code).ok(), role, "{what}");
        }
    }

    #[test]
    fn a_forked_phone_takes_a_free_id_and_its_twin_keeps_the_old_one() {
        let mut house = house();
        let code = house.code(Role::Helper, 1);
        let enrolled = house.join(1, &code, NOW).unwrap();
        let from = house.device(&enrolled).unwrap();
        let renewed = |n: u8, token: u8| {
            renew(&house.conn, &from, id(n), &Token::new([token; 32]), NOW)
                .map_err(|error| error.refusal().code)
        };
        let first = renewed(5, 100).unwrap();
        let again = renewed(5, 101).unwrap();
        assert_eq!((again.device, again.role), (id(5), Role::Owner));
        assert_eq!(house.device(&first), None, "only the last answer counts");
        assert_eq!(house.device(&again).unwrap().renewed_from, Some(id(1)));
        assert_eq!(house.device(&enrolled).unwrap().device, id(1), "the twin goes on");
        assert!(matches!(renewed(1, 102), Err(RefusalCode::Malformed { .. })));
        devices::mark_seen(&house.conn, id(5), NOW).unwrap();
        assert!(matches!(renewed(5, 103), Err(RefusalCode::Malformed { .. })));
    }
}
