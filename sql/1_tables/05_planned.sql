-- 05_planned: what was planned, what happened at the table, and who did what about it.
-- Grain:   plan one row per planned session; the others one row per statement; of statements about
--          the same thing the last one holds.
-- Note:    sessions that were brought in from a file have no plan: they are closed from the start.
--          Free text is kept beside the history; its salted digest enters it.

create table author (
    person_id   varchar   not null references person (person_id),
    entry_no    integer   primary key,
    recorded_at timestamp not null
);

create table panellist (
    person_id    varchar   not null references person (person_id),
    is_panellist boolean   not null,
    since_on     date,
    entry_no     integer   not null,
    recorded_at  timestamp not null,
    primary key (person_id, entry_no)
);

create table not_served (
    person_id   varchar   not null references person (person_id),
    kind        varchar   not null check (kind in ('compound', 'beer')),
    what        varchar   not null,
    is_in_force boolean   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (person_id, kind, what, entry_no)
);

create table plan (
    session_id      varchar        primary key references session (session_id),
    purpose         varchar        not null check (
        purpose in ('training', 'qualification', 'monitoring')
    ),
    beer            varchar        not null,
    volume_ml       decimal(18, 9) not null check (volume_ml > 0),
    abv_percent     decimal(5, 2)  not null check (abv_percent between 0 and 30),
    has_control     boolean        not null,
    spits           boolean        not null,
    spat_share      decimal(5, 4)  not null check (spat_share between 0 and 1),
    alcohol_limit_g decimal(6, 2)  not null check (alcohol_limit_g >= 0),
    most_glasses    integer        not null check (most_glasses > 0),
    seed            bigint         not null check (seed >= 0),
    repeats         varchar        references session (session_id),
    entry_no        integer        not null,
    recorded_at     timestamp      not null
);

create table sitting_time (
    sitting_id  varchar   not null references sitting (sitting_id),
    starts_at   timestamp not null,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (sitting_id, entry_no)
);

create table sitting_person (
    sitting_id  varchar   not null references sitting (sitting_id),
    person_id   varchar   not null references person (person_id),
    state       varchar   not null check (state in ('expected', 'late', 'left', 'absent')),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (sitting_id, person_id, entry_no)
);

create table sitting_over (
    sitting_id  varchar   not null references sitting (sitting_id),
    is_over     boolean   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (sitting_id, entry_no)
);

create table addition (
    sample_id       varchar   not null references sample (sample_id),
    addition        varchar   not null,
    addition_salt   varchar   not null,
    addition_digest varchar   not null,
    entry_no        integer   not null,
    recorded_at     timestamp not null,
    primary key (sample_id, entry_no)
);

create table sample_state (
    sample_id    varchar        not null references sample (sample_id),
    actual_level decimal(18, 9) check (actual_level > 0),
    age_minutes  integer        check (age_minutes >= 0),
    entry_no     integer        not null,
    recorded_at  timestamp      not null,
    primary key (sample_id, entry_no)
);

create table sample_aside (
    sample_id     varchar   not null references sample (sample_id),
    is_aside      boolean   not null,
    reason        varchar,
    reason_salt   varchar,
    reason_digest varchar,
    entry_no      integer   not null,
    recorded_at   timestamp not null,
    primary key (sample_id, entry_no)
);

create table spare_serving (
    sitting_id     varchar   not null references sitting (sitting_id),
    spare_no       integer   not null check (spare_no > 0),
    position       integer   not null check (position > 0),
    sample_id      varchar   not null references sample (sample_id),
    blind_code     varchar   not null,
    duplicate_mark varchar,
    entry_no       integer   not null,
    recorded_at    timestamp not null,
    primary key (sitting_id, spare_no, position)
);

create table spare_taken (
    sitting_id  varchar   not null references sitting (sitting_id),
    spare_no    integer   not null,
    person_id   varchar   not null references person (person_id),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (sitting_id, spare_no)
);

create table glass_event (
    serving_id  varchar   not null references serving (serving_id),
    kind        varchar   not null check (kind in ('spilled', 'short', 'as_planned')),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (serving_id, entry_no)
);

create table poured_instead (
    serving_id  varchar   not null references serving (serving_id),
    sample_id   varchar   not null references sample (sample_id),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (serving_id, entry_no)
);

create table preparer (
    session_id  varchar   not null references session (session_id),
    person_id   varchar   not null references person (person_id),
    is_preparer boolean   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (session_id, person_id, entry_no)
);

create table recoding (
    session_id  varchar   not null references session (session_id),
    is_recoded  boolean   not null,
    person_id   varchar   references person (person_id),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (session_id, entry_no)
);

create table correction (
    serving_id    varchar   not null references serving (serving_id),
    reason        varchar,
    reason_salt   varchar,
    reason_digest varchar   not null,
    entry_no      integer   not null,
    recorded_at   timestamp not null,
    primary key (serving_id, entry_no)
);

create table session_end (
    session_id  varchar   primary key references session (session_id),
    how         varchar   not null check (how in ('closed', 'called_off')),
    entry_no    integer   not null,
    recorded_at timestamp not null
);
