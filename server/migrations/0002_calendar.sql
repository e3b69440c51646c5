-- Secret links to the calendar feed. A revoked one is removed: nothing refers to it.
create table calendar_links (
    -- What it is revoked by: 8 random bytes. Not the secret.
    id          blob    not null primary key check (length(id) = 8),
    -- SHA-256 of the secret. The secret itself is never stored.
    secret_hash blob    not null unique check (length(secret_hash) = 32),
    -- The person whose device made it, a UUID of 16 bytes.
    person      blob    not null check (length(person) = 16),
    -- When it was made and last read, milliseconds since 1970-01-01 UTC.
    created     integer not null,
    read        integer
) strict, without rowid;
