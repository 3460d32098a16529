-- 03_shelf: the vocabulary and what stands on the brewery's shelf, each row dated twice.
-- Grain:   one row per statement; a later entry about the same thing takes its place in reading.
-- Note:    a synonym without a compound says that the words stand for none.
--          A reference range is a hint from books; only a working threshold gives a level.

create table brewery (
    label       varchar   not null,
    time_zone   varchar   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null
);

create table compound (
    compound       varchar primary key,
    label          varchar not null,
    chemical_name  varchar not null,
    cas            varchar not null,
    chemical_class varchar not null,
    descriptors    varchar not null,
    reference_low  decimal(18, 9) check (reference_low > 0),
    reference_high decimal(18, 9) check (reference_high > 0),
    reference_unit varchar not null,
    how_known      varchar not null,
    source         varchar not null,
    serve          varchar not null,
    keeping        varchar not null,
    cause          varchar not null,
    safety         varchar not null,
    entry_no       integer not null,
    recorded_at    timestamp not null
);

create table synonym (
    words_key   varchar   not null check (length(words_key) > 0),
    words       varchar   not null,
    compound    varchar   references compound (compound),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (words_key, entry_no)
);

create table beer_family (
    family      varchar   not null,
    label       varchar   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (family, entry_no)
);

create table family_compound (
    family      varchar   not null,
    item_no     integer   not null check (item_no >= 0),
    compound    varchar   not null references compound (compound),
    role        varchar   not null check (role in ('critical', 'expected')),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (family, compound, role, entry_no)
);

create table base_beer (
    beer        varchar   not null,
    label       varchar   not null,
    family      varchar   not null,
    abv_percent decimal(5, 2) check (abv_percent between 0 and 30),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (beer, entry_no)
);

create table working_threshold (
    compound       varchar        not null references compound (compound),
    family         varchar        not null,
    threshold_ug_l decimal(18, 9) not null check (threshold_ug_l > 0),
    valid_from_on  date           not null,
    entry_no       integer not null,
    recorded_at    timestamp      not null,
    primary key (compound, family, valid_from_on, entry_no)
);

create table background (
    beer            varchar   not null,
    compound        varchar   not null references compound (compound),
    known           varchar   not null check (known in ('measured', 'assumed', 'unknown')),
    background_ug_l decimal(18, 9) check (background_ug_l >= 0),
    valid_from_on   date      not null,
    entry_no        integer not null,
    recorded_at     timestamp not null,
    primary key (beer, compound, valid_from_on, entry_no),
    check ((known = 'unknown') = (background_ug_l is null))
);

create table shelf_file (
    file_name   varchar   not null,
    file_digest varchar   not null check (length(file_digest) = 64),
    entry_no    integer   not null,
    recorded_at timestamp not null
);
