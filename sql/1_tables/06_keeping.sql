-- 06_keeping: how fast a compound is lost between dosing and serving, as the brewery found it.
-- Grain:   keeping one row per statement about a compound from a day on.
-- Note:    half_life_h null takes a statement back: nothing is reckoned as lost.

create table keeping (
    compound      varchar        not null references compound (compound),
    half_life_h   decimal(12, 3) check (half_life_h > 0),
    valid_from_on date           not null,
    entry_no      integer        not null,
    recorded_at   timestamp      not null,
    primary key (compound, valid_from_on, entry_no)
);
