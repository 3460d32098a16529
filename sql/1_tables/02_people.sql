-- 02_people: who answers. Facts hold a random id; the spellings live in person_name, outside the
--            history, so that a person can be made anonymous while the history still verifies.
-- Grain:   person one row per spelling ever used; person_name one row per person;
--          same_person one row per statement "this spelling is (or is no longer) that person".

create table person (
    person_id   varchar   primary key check (length(person_id) = 16),
    entry_no    integer   not null,
    recorded_at timestamp not null
);

create table person_name (
    person_id varchar primary key references person (person_id),
    spelling  varchar not null unique check (length(spelling) between 1 and 60)
);

create table same_person (
    person_id   varchar   not null references person (person_id),
    stands_for  varchar   not null references person (person_id),
    is_same     boolean   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (person_id, entry_no)
);
