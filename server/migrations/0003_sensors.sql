-- Thermometers that send readings. Each is a device whose entries the server writes and numbers;
-- what it is called and whether it was shut out stands in `devices`. The token there is one that
-- nobody has, so that a sensor's own token opens nothing but the way in for readings.
create table sensors (
    device     blob not null primary key references devices (device),
    -- SHA-256 of its token. The token itself is never stored.
    token_hash blob not null unique check (length(token_hash) = 32)
) strict, without rowid;
