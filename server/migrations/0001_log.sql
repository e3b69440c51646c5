-- What identifies this database, by name. `epoch` (the log's identity, 16 bytes) is made with it;
-- `oldest` (integer) is the first seq still sent row by row.
create table meta (
    name  text not null primary key,
    value any  not null
) strict, without rowid;

-- The log: every entry ever admitted, once, in the server's order. Rows are only ever added.
create table log (
    -- The server's order, dense from 1.
    seq          integer not null primary key autoincrement,
    -- The device that wrote it, a UUID of 16 bytes.
    device       blob    not null check (length(device) = 16),
    -- Its place among that device's entries, dense from 1.
    device_seq   integer not null check (device_seq > 0),
    -- The writer's clock: milliseconds since 1970-01-01 UTC, and the count within one.
    wall         integer not null,
    count        integer not null,
    -- What kind of fact, and the version of its payload. Unknown ones are kept like any other.
    kind         text    not null,
    kind_version integer not null,
    -- The fact's JSON, byte for byte as first written.
    payload      text    not null,
    -- SHA-256 of the entry's content.
    hash         blob    not null check (length(hash) = 32),
    -- The running digest of the log up to and with this row.
    digest       blob    not null check (length(digest) = 32),
    -- When it was admitted, by the server's clock, milliseconds since 1970-01-01 UTC.
    received     integer not null,
    unique (device, device_seq)
) strict;

-- Who may come in. A row is never removed: its entries stay in the log.
create table devices (
    -- The id the device made for itself, a UUID of 16 bytes.
    device       blob    not null primary key check (length(device) = 16),
    -- The id of the person, a UUID of 16 bytes, and the name given when joining.
    person       blob    not null check (length(person) = 16),
    name         text    not null,
    -- SHA-256 of the token. The token itself is never stored.
    token_hash   blob    not null unique check (length(token_hash) = 32),
    role         text    not null check (role in ('viewer', 'helper', 'owner')),
    -- Moments in milliseconds since 1970-01-01 UTC: let in, last exchange, shut out.
    enrolled     integer not null,
    seen         integer,
    revoked      integer,
    -- The id this device had before, when it took another after a fork.
    renewed_from blob    references devices (device)
) strict, without rowid;

-- Codes that let devices in.
create table codes (
    -- SHA-256 of the code's 5 bytes.
    code_hash blob    not null primary key check (length(code_hash) = 32),
    -- Until when it can be used, milliseconds since 1970-01-01 UTC.
    until     integer not null,
    -- How many devices may still come in with it.
    uses_left integer not null check (uses_left >= 0),
    -- What they may do once in.
    role      text    not null check (role in ('viewer', 'helper', 'owner')),
    -- When it was made, milliseconds since 1970-01-01 UTC.
    created   integer not null
) strict, without rowid;
