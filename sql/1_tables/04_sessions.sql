-- 04_sessions: who was served what, when, and what they answered.
-- Grain:   session one row per day and label; sitting one group at one time; sample one preparation;
--          serving one glass (or one forced-choice set) to one panellist; answer one statement about
--          a serving; set_aside one statement that a serving does not (or does again) count.
-- Note:    the two long tables, serving and answer, carry no keys into each other, which would
--          double the time of an import; "seatworthy verify" looks for orphans instead.
--          Amounts are decimals, so that no NaN can enter and their text is canonical. Words are kept
--          beside the history: what enters it is words_digest, the SHA-256 of salt and words.

create table import_file (
    import_id   varchar   primary key,
    file_name   varchar   not null,
    file_digest varchar   not null check (length(file_digest) = 64),
    shape       varchar   not null check (shape in ('answers', 'glasses')),
    rows_read   integer   not null check (rows_read >= 0),
    rows_added  integer   not null check (rows_added >= 0),
    entry_no    integer   not null,
    recorded_at timestamp not null
);

create table session (
    session_id  varchar   primary key,
    session_on  date      not null,
    label       varchar   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null
);

create table sitting (
    sitting_id  varchar   primary key,
    session_id  varchar   not null references session (session_id),
    label       varchar   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null
);

create table sample (
    sample_id   varchar   primary key,
    sitting_id  varchar   not null references sitting (sitting_id),
    beer        varchar   not null,
    compound    varchar   references compound (compound),
    given_level decimal(18, 9) check (given_level > 0),
    dose_ug     decimal(18, 9) check (dose_ug > 0),
    volume_ml   decimal(18, 9) check (volume_ml > 0),
    mark        varchar   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    check (compound is not null or (given_level is null and dose_ug is null)),
    check ((dose_ug is null) = (volume_ml is null))
);

create table serving (
    serving_id     varchar   primary key,
    sample_id      varchar   not null,
    person_id      varchar   not null references person (person_id),
    method         varchar   not null check (
        method in ('naming', '3afc', 'triangle', 'duo_trio', '2afc', 'a_not_a', 'intensity')
    ),
    position       integer   check (position > 0),
    blind_code     varchar,
    duplicate_mark varchar,
    entry_no       integer not null,
    recorded_at    timestamp not null
);

create table answer (
    serving_id   varchar   not null,
    kind         varchar   not null check (
        kind in ('words', 'something', 'nothing', 'right', 'wrong', 'yes', 'no', 'rating')
    ),
    words        varchar,
    words_key    varchar,
    words_salt   varchar,
    words_digest varchar,
    rating       decimal(18, 9),
    entry_no     integer not null,
    recorded_at  timestamp not null,
    check ((kind = 'words') = (words_digest is not null)),
    check ((kind = 'rating') = (rating is not null))
);

create table set_aside (
    serving_id    varchar   not null references serving (serving_id),
    is_aside      boolean   not null,
    reason        varchar,
    reason_salt   varchar,
    reason_digest varchar,
    entry_no      integer   not null,
    recorded_at   timestamp not null,
    primary key (serving_id, entry_no)
);

create table remark (
    serving_id    varchar   not null references serving (serving_id),
    remark        varchar,
    remark_salt   varchar,
    remark_digest varchar   not null,
    entry_no      integer   not null,
    recorded_at   timestamp not null,
    primary key (serving_id, entry_no)
);
