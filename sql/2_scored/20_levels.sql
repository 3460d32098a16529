-- sample_level: what was really in each preparation, as multiples of the working threshold.
-- Purpose: what somebody said it really was stands before what was dosed, and that before what was
--          planned. A level given as a multiple is taken as the total; a dose is turned into one with
--          its volume, the background and the threshold in force that day (a family's own before the
--          general one). Without a threshold the level is not known, never zero. Of what was added, that
--          which was lost between dosing and serving is taken off where its half-life is known and the
--          jug's age was stated or follows from the time of dosing; a level stated for the jug as it
--          really was stands as it is.
-- Grain:   one row per sample.
-- Reads:   sample, sitting, session, known_sample_state, prepared_vessel, known_beer, known_threshold,
--          known_background, known_keeping
-- Used by: glass_outcome

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
),

keeping_then as (
    select cases.compound, cases.session_on, arg_max_null(half_life_h, valid_from_on) as half_life_h
    from (select distinct compound, session_on from cases) as cases
    join known_keeping
        on  known_keeping.compound = cases.compound
        and known_keeping.valid_from_on <= cases.session_on
    group by cases.compound, cases.session_on
),

-- Of what went into each vessel that which is left when it is served; an age that somebody stated for the
-- jug is that of all its vessels.
dosed as (
    select
        sample_id,
        -- unknown where a threshold is missing
        sum(
            (
                case when added_ug > 0 then added_ug / threshold_ug_l::double else 0 end
                + added_times_l
            ) * greatest(
                coalesce(
                    pow(
                        0.5,
                        coalesce(stated.age_minutes, prepared_vessel.age_minutes)
                        / 60.0 / prepared_vessel.half_life_h
                    ),
                    1.0
                ),
                1e-6
            )
        ) / sum(volume_l)                                             as added_level,
        count(*) filter (added_ug > 0 and threshold_ug_l is null) > 0 as is_unknown
    from prepared_vessel
    join placed using (sample_id)
    left join threshold_then using (compound, family, session_on)
    left join known_sample_state as stated using (sample_id)
    where compound is not null
    group by sample_id
    having sum(added_ug + added_times_l) > 0
),

measured as (
    select
        placed.*,
        known_sample_state.actual_level::double                              as actual_level,
        threshold_ug_l::double                                               as threshold_ug_l,
        coalesce(background_ug_l, 0)::double / threshold_ug_l::double        as background_level,
        case when not is_unknown then added_level end                        as added_level,
        dosed.sample_id is not null                                          as is_dosed,
        -- a trace is kept for ever, since no level is zero
        greatest(coalesce(pow(0.5, age_minutes / 60.0 / half_life_h::double), 1.0), 1e-6)
            as kept_share
    from placed
    left join threshold_then using (compound, family, session_on)
    left join background_then using (compound, beer, session_on)
    left join keeping_then using (compound, session_on)
    left join known_sample_state using (sample_id)
    left join dosed on dosed.sample_id = placed.sample_id
)

select
    sample_id,
    sitting_id,
    session_id,
    session_on,
    family,
    beer,
    compound,
    background_level,
    coalesce(
        actual_level,
        case when is_dosed then coalesce(background_level, 0) + added_level end,
        case
            when is_dosed and added_level is null then null
            when given_level is null or kept_share = 1 then given_level::double
            else least(given_level::double, coalesce(background_level, 0))
                + greatest(given_level::double - coalesce(background_level, 0), 0) * kept_share
        end,
        background_level + 1000 * dose_ug::double / volume_ml::double * kept_share / threshold_ug_l
    ) as total_level
from measured;
