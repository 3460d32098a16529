-- naming_glass: the spiked glasses that ask for a name, the evidence for what a person finds.
-- Grain:   one row per answered naming glass with a compound in it.
-- Reads:   scored_answer
-- Used by: cell_count, wrong_name, queries/counted_glasses

create or replace view naming_glass as
select
    person_id, compound, family, session_on, sample_id, duplicate_mark, sitting_id,
    total_level, outcome, named_compound, words
from scored_answer
where method = 'naming' and not is_blank;


-- blank_glass: the unspiked glasses, and whether something was called in them.
-- Purpose: a call is a name or a perception without one. It is no false call where the beer may
--          explain it ("possible background"): a compound expected in that family (by the shelf, or
--          by the rulebook, whose list stands in the cursor's variable also_expected as "family
--          compound"), or one whose background there is unknown or at least half the threshold.
--          Words that may mean several are explained where one of these is. Own words whose meaning
--          nobody has said yet leave the glass out, here as in spiked ones.
-- Grain:   one row per answered naming glass without a compound.
-- Reads:   scored_answer, known_family_compound, known_background, known_threshold
-- Used by: queries/blanks, queries/blank_counts

create or replace view blank_glass as

with blank as (
    select *, outcome <> 'right' as is_call
    from scored_answer
    where method = 'naming' and is_blank and outcome <> 'open'
),

called as (
    select serving_id, beer, family, session_on, unnest(right_for) as compound
    from blank
),

background_then as (
    select
        called.beer,
        called.family,
        called.compound,
        called.session_on,
        arg_max(known, valid_from_on)                as known,
        arg_max_null(background_ug_l, valid_from_on) as background_ug_l
    from (select distinct beer, family, compound, session_on from called) as called
    join known_background
        on  known_background.beer = called.beer
        and known_background.compound = called.compound
        and known_background.valid_from_on <= called.session_on
    group by called.beer, called.family, called.compound, called.session_on
),

explained as (
    select beer, family, compound, session_on
    from background_then
    where known = 'unknown'
       or background_ug_l >= 0.5 * (
            select arg_max(
                threshold_ug_l,
                (known_threshold.family = background_then.family, valid_from_on)
            )
            from known_threshold
            where known_threshold.compound = background_then.compound
              and known_threshold.family in (background_then.family, '')
              and known_threshold.valid_from_on <= background_then.session_on
        )
),

possible as (
    select serving_id
    from called
    where (family, compound) in (
            select (family, compound) from known_family_compound where role = 'expected'
        )
       or concat(family, ' ', compound) in (
            select unnest(getvariable('also_expected')::varchar[])
        )
       or (beer, family, compound, session_on) in (
            select (beer, family, compound, session_on) from explained
        )
)

select
    blank.serving_id,
    blank.sample_id,
    blank.person_id,
    blank.family,
    blank.session_on,
    blank.named_compound,
    blank.words,
    blank.is_call,
    blank.is_call and blank.serving_id in (select serving_id from possible) as is_possible_background
from blank;
