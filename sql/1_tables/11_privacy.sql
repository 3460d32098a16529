-- 11_privacy: how long a person is kept, who was made anonymous, and how much a brewer sees.
-- Grain:   made_anonymous one row per spelling whose name and free text are gone for good; retention one
--          row per statement; kept_longer one row per statement about a person past that time;
--          person_copy one row per copy of what is kept that was handed to the person it is about;
--          brewer_sight one row per statement; brewer_passphrase one row per passphrase ever set.
-- Note:    what was made anonymous keeps its facts under its random id, so that the history still adds
--          up. A passphrase is kept as a scrypt digest, outside the history.

create table made_anonymous (
    person_id   varchar   primary key references person (person_id),
    entry_no    integer   not null,
    recorded_at timestamp not null
);

create table retention (
    keep_months integer   check (keep_months between 1 and 600),
    entry_no    integer   primary key,
    recorded_at timestamp not null
);

create table kept_longer (
    person_id   varchar   not null references person (person_id),
    until_on    date      not null,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (person_id, entry_no)
);

create table person_copy (
    person_id   varchar   not null references person (person_id),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (person_id, entry_no)
);

create table brewer_sight (
    sees_scores boolean   not null,
    entry_no    integer   primary key,
    recorded_at timestamp not null
);

create table brewer_passphrase (
    passphrase_salt   varchar   not null,
    passphrase_digest varchar   not null,
    set_at            timestamp primary key
);
