-- 01_history: what has been recorded, in order, each entry sealed with the digest of the one before.
-- Grain:   applied_file one row per file of this folder; history one row per act of recording.
-- Note:    every fact carries the entry_no of the entry that recorded it and the moment of recording
--          (UTC); its day of truth stands in columns ending in _on. Facts are added, never changed.

create table applied_file (
    number     integer   primary key,
    name       varchar   not null,
    digest     varchar   not null,
    applied_at timestamp not null
);

create table history (
    entry_no        integer   primary key,
    recorded_at     timestamp not null,
    kind            varchar   not null,
    facts           integer   not null check (facts >= 0),
    facts_digest    varchar   not null check (length(facts_digest) = 64),
    previous_digest varchar   not null check (length(previous_digest) = 64),
    digest          varchar   not null unique check (length(digest) = 64)
);
