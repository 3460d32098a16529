-- 09_ballots: answers on people's own phones, and what the leader lets words and glasses ask.
-- Grain:   ballot_link one row per link ever handed out; ballot_language one row per statement;
--          phone_answer one row per answer that came by phone, beside its row in answer;
--          sample_question one row per sample that is rated for one compound; accepted_words one row
--          per statement "these words are (or are no longer) right for that compound";
--          leader_passphrase one row per passphrase ever set.
-- Note:    a link is kept as the SHA-256 of its secret, so that nobody can read one out of the store;
--          of two for the same seat the newer holds. A passphrase is kept as a scrypt digest, outside
--          the history.

create table ballot_link (
    link_digest varchar   primary key check (length(link_digest) = 64),
    sitting_id  varchar   not null references sitting (sitting_id),
    person_id   varchar   not null references person (person_id),
    expires_at  timestamp not null,
    entry_no    integer   not null,
    recorded_at timestamp not null
);

create table ballot_language (
    person_id   varchar   not null references person (person_id),
    language    varchar   not null check (language in ('en', 'de', 'es')),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (person_id, entry_no)
);

create table phone_answer (
    serving_id  varchar   not null,
    sureness    varchar   check (sureness in ('guess', 'fairly', 'certain')),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (serving_id, entry_no)
);

create table sample_question (
    sample_id   varchar   primary key references sample (sample_id),
    compound    varchar   not null references compound (compound),
    entry_no    integer   not null,
    recorded_at timestamp not null
);

create table accepted_words (
    words_key   varchar   not null,
    words       varchar   not null,
    compound    varchar   not null references compound (compound),
    is_accepted boolean   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (words_key, compound, entry_no)
);

create table leader_passphrase (
    passphrase_salt   varchar   not null,
    passphrase_digest varchar   not null,
    set_at            timestamp primary key
);
