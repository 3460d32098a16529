-- sample_level: what was really in each preparation, as multiples of the working threshold.
-- Purpose: what somebody said it really was stands before what was planned. A level given as a
--          multiple is taken as the total; a dose is turned into one with its volume, the background
--          and the threshold in force that day (a family's own before the general one). Without a
--          threshold the level is not known, never zero.
-- Grain:   one row per sample.
-- Reads:   sample, sitting, session, known_sample_state, known_beer, known_threshold, known_background
-- Used by: answered_glass

create or replace view sample_level as

with placed as (
    select
        sample.*,
        session.session_id,
        session.session_on,
        coalesce(known_beer.family, 'house') as family
    from sample
    join sitting using (sitting_id)
    join session using (session_id)
    left join known_beer using (beer)
),

cases as (
    select distinct compound, family, beer, session_on
    from placed
    where compound is not null
),

threshold_then as (
    select
        cases.compound,
        cases.family,
        cases.session_on,
        arg_max(threshold_ug_l, (known_threshold.family = cases.family, valid_from_on))
            as threshold_ug_l
    from (select distinct compound, family, session_on from cases) as cases
    join known_threshold
        on  known_threshold.compound = cases.compound
        and known_threshold.family in (cases.family, '')
        and known_threshold.valid_from_on <= cases.session_on
    group by cases.compound, cases.family, cases.session_on
),

background_then as (
    select
        cases.compound,
        cases.beer,
        cases.session_on,
        arg_max_null(background_ug_l, valid_from_on) as background_ug_l
    from (select distinct compound, beer, session_on from cases) as cases
    join known_background
        on  known_background.compound = cases.compound
        and known_background.beer = cases.beer
        and known_background.valid_from_on <= cases.session_on
    group by cases.compound, cases.beer, cases.session_on
)

select
    placed.sample_id,
    placed.sitting_id,
    placed.session_id,
    placed.session_on,
    placed.family,
    placed.beer,
    placed.compound,
    coalesce(background_ug_l, 0)::double / threshold_ug_l::double as background_level,
    coalesce(
        actual_level::double,
        given_level::double,
        (coalesce(background_ug_l, 0)::double + 1000 * dose_ug::double / volume_ml::double)
            / threshold_ug_l::double
    ) as total_level
from placed
left join threshold_then using (compound, family, session_on)
left join background_then using (compound, beer, session_on)
left join known_sample_state using (sample_id);
