-- 08_bench: what stands on the bench, what a session's vessels were to get, and what went into them.
-- Grain:   stock one row per lot; recipe one row per statement about a sample of a session; the others
--          one row per statement, of which the last about the same thing holds.
-- Note:    strength counts micrograms in a microlitre (solution), or the multiples of the working
--          threshold that a microlitre (reference) or a unit (unit) gives in one litre.
--          amount counts microlitres, or whole units. Free text is kept beside the history.

create table pipette (
    pipette_id  varchar        not null,
    label       varchar        not null,
    smallest_ul decimal(12, 3) not null check (smallest_ul > 0),
    largest_ul  decimal(12, 3) not null,
    step_ul     decimal(12, 3) not null check (step_ul > 0),
    is_fine     boolean        not null,
    bias_ul     decimal(12, 4) check (bias_ul >= 0),
    spread_ul   decimal(12, 4) check (spread_ul >= 0),
    is_in_use   boolean        not null,
    entry_no    integer        not null,
    recorded_at timestamp      not null,
    primary key (pipette_id, entry_no),
    check (largest_ul >= smallest_ul)
);

create table container (
    container_id varchar        not null,
    label        varchar        not null,
    kind         varchar        not null check (kind in ('bottle', 'pitcher', 'keg')),
    content_ml   decimal(12, 3) not null check (content_ml > 0),
    fill_off_ml  decimal(12, 3) not null check (fill_off_ml >= 0),
    headspace_ml decimal(12, 3) not null check (headspace_ml >= 0),
    dead_ml      decimal(12, 3) not null check (dead_ml >= 0),
    is_in_use    boolean        not null,
    entry_no     integer        not null,
    recorded_at  timestamp      not null,
    primary key (container_id, entry_no)
);

create table stock (
    stock_id             varchar         primary key,
    compound             varchar         not null references compound (compound),
    label                varchar         not null,
    lot                  varchar         not null,
    kind                 varchar         not null check (kind in ('solution', 'reference', 'unit')),
    strength             decimal(24, 12) not null check (strength > 0),
    strength_off_percent decimal(5, 2)   not null check (strength_off_percent between 0 and 100),
    full_amount          decimal(18, 6)  check (full_amount > 0),
    dead_ul              decimal(12, 3)  not null check (dead_ul >= 0),
    ethanol_percent      decimal(5, 2)   not null check (ethanol_percent between 0 and 100),
    is_food_grade        boolean         not null,
    is_bought_dilution   boolean         not null,
    is_narrow            boolean         not null,
    made_from            varchar,  -- no key: a backup copies rows in any order
    taken_ul             decimal(18, 6)  check (taken_ul > 0),
    made_ul              decimal(18, 6)  check (made_ul > 0),
    entry_no             integer         not null,
    recorded_at          timestamp       not null,
    check ((made_from is null) = (taken_ul is null) and (made_from is null) = (made_ul is null))
);

-- left_amount: what somebody found to be left at that moment; null if they said nothing of it.
create table stock_state (
    stock_id    varchar        not null references stock (stock_id),
    opened_on   date,
    expires_on  date,
    left_amount decimal(18, 6) check (left_amount >= 0),
    is_used_up  boolean        not null,
    entry_no    integer        not null,
    recorded_at timestamp      not null,
    primary key (stock_id, entry_no)
);

-- A null takes a statement back: what is usual for the compound's kind holds again.
create table compound_limit (
    compound      varchar        not null references compound (compound),
    keeps_h       decimal(9, 3)  check (keeps_h > 0),
    keeps_weak_h  decimal(9, 3)  check (keeps_weak_h > 0),
    highest_level decimal(9, 3)  check (highest_level > 0),
    valid_from_on date           not null,
    entry_no      integer        not null,
    recorded_at   timestamp      not null,
    primary key (compound, valid_from_on, entry_no)
);

-- What each vessel of a sample was to get; every statement of one entry belongs together. gives is the
-- number of glasses that one vessel gives; is_shared says that it serves every sitting; is_out_first that
-- as much beer is taken out as is added.
create table recipe (
    session_id   varchar        not null references session (session_id),
    mark         varchar        not null,
    container_id varchar        not null,
    volume_ml    decimal(12, 3) not null check (volume_ml > 0),
    stock_id     varchar        references stock (stock_id),
    pipette_id   varchar,
    setting_ul   decimal(12, 3) check (setting_ul > 0),
    shots        integer        check (shots > 0),
    amount       decimal(18, 6) not null check (amount >= 0),
    solvent_ul   decimal(18, 6) not null check (solvent_ul >= 0),
    is_out_first boolean        not null,
    gives        integer        not null check (gives > 0),
    is_shared    boolean        not null,
    level        decimal(18, 9) check (level > 0),
    level_off    decimal(18, 9) check (level_off >= 0),
    entry_no     integer        not null,
    recorded_at  timestamp      not null,
    primary key (session_id, mark, entry_no),
    check ((stock_id is null) = (level is null)),
    check ((pipette_id is null) = (setting_ul is null) and (pipette_id is null) = (shots is null))
);

-- The vessels that the recipes of the same entry fill; sitting_id null: one that serves every sitting.
create table recipe_vessel (
    session_id  varchar   not null references session (session_id),
    mark        varchar   not null,
    vessel_no   integer   not null check (vessel_no > 0),
    sitting_id  varchar   references sitting (sitting_id),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (session_id, mark, vessel_no, entry_no)
);

-- Hours for which a preparation keeps between dosing and serving.
create table sample_keeps (
    sample_id   varchar       not null references sample (sample_id),
    keeps_h     decimal(9, 3) not null check (keeps_h > 0),
    entry_no    integer       not null,
    recorded_at timestamp     not null,
    primary key (sample_id, entry_no)
);

-- solvent_ul: pure ethanol that came with it. is_shared: the same vessel serves other sittings too, whose
-- samples bear the same letter and number.
-- is_done false takes the dose back: that vessel is as if it had not been dosed.
create table vessel_dosed (
    sample_id   varchar        not null references sample (sample_id),
    vessel_no   integer        not null check (vessel_no > 0),
    is_done     boolean        not null,
    is_shared   boolean        not null,
    stock_id    varchar        references stock (stock_id),
    pipette_id  varchar,
    setting_ul  decimal(12, 3) check (setting_ul > 0),
    shots       integer        check (shots > 0),
    amount      decimal(18, 6) not null check (amount >= 0),
    solvent_ul  decimal(18, 6) not null check (solvent_ul >= 0),
    volume_ml   decimal(12, 3) not null check (volume_ml > 0),
    dosed_at    timestamp      not null,
    person_id   varchar        references person (person_id),
    entry_no    integer        not null,
    recorded_at timestamp      not null,
    primary key (sample_id, vessel_no, entry_no),
    check (stock_id is not null or amount = 0)
);

create table vessel_step (
    sample_id   varchar   not null references sample (sample_id),
    vessel_no   integer   not null check (vessel_no > 0),
    step        varchar   not null check (step in ('capped', 'tight', 'chilled', 'put_away')),
    is_done     boolean   not null,
    done_at     timestamp not null,
    person_id   varchar   references person (person_id),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (sample_id, vessel_no, step, entry_no)
);

create table vessel_remark (
    sample_id     varchar   not null references sample (sample_id),
    vessel_no     integer   not null check (vessel_no > 0),
    remark        varchar,
    remark_salt   varchar,
    remark_digest varchar   not null,
    entry_no      integer   not null,
    recorded_at   timestamp not null,
    primary key (sample_id, vessel_no, entry_no)
);

-- The glasses of a forced-choice set, besides what its serving says.
create table set_glass (
    serving_id  varchar   not null,
    place       integer   not null check (place > 0),
    blind_code  varchar   not null,
    sample_id   varchar   not null references sample (sample_id),
    is_odd      boolean   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (serving_id, place)
);

-- Which of a set's glasses was picked, so that the pick can be read again. The salt keeps anybody from
-- trying out by the digest of the entry whether it was right.
create table set_pick (
    serving_id  varchar   not null,
    blind_code  varchar   not null,
    salt        varchar   not null check (length(salt) >= 16),
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (serving_id, entry_no)
);

-- How a planned session differs from everybody tasting everything in any order.
create table plan_flight (
    session_id  varchar   primary key references session (session_id),
    flight      integer   check (flight > 0),
    strong_late boolean   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null
);
