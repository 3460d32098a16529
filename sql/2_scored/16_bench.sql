-- known_*: the bench as it stood at one moment, and what really went into each vessel.
-- Purpose: what was really dosed is the level of every answer; a lot that turns out to have expired, or a
--          preparation kept past its limit, marks the answers and erases none.
-- Grain:   that of the name after known_; of statements about the same thing the last one.
-- Reads:   the tables of 08_bench, sample, sitting, session, sitting_time,
--          known_sample_state
-- Used by: sample_level, answered_glass, scored_answer, sql/queries

create or replace view known_pipette as
select * exclude (entry_no, recorded_at)
from pipette
where pipette.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
qualify entry_no = max(entry_no) over (partition by pipette_id);

create or replace view known_container as
select * exclude (entry_no, recorded_at)
from container
where container.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
qualify entry_no = max(entry_no) over (partition by container_id);

create or replace view known_stock_state as
select
    stock_id,
    arg_max_null(opened_on, entry_no)  as opened_on,
    arg_max_null(expires_on, entry_no) as expires_on,
    arg_max(is_used_up, entry_no)      as is_used_up,
    arg_max(left_amount, entry_no)     as found_left,
    arg_max(entry_no, entry_no) filter (where left_amount is not null) as found_entry_no
from stock_state
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by stock_id;

create or replace view known_compound_limit as
select
    compound,
    valid_from_on,
    arg_max_null(keeps_h, entry_no)       as keeps_h,
    arg_max_null(keeps_weak_h, entry_no)  as keeps_weak_h,
    arg_max_null(highest_level, entry_no) as highest_level
from compound_limit
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by compound, valid_from_on;

create or replace view known_recipe as
select * exclude (recorded_at)
from recipe
where recipe.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
qualify entry_no = max(entry_no) over (partition by session_id);

create or replace view known_recipe_vessel as
select * exclude (recorded_at)
from recipe_vessel
where recipe_vessel.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
qualify entry_no = max(entry_no) over (partition by session_id);

create or replace view known_sample_keeps as
select sample_id, arg_max(keeps_h, entry_no) as keeps_h
from sample_keeps
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by sample_id;

create or replace view known_vessel_step as
select
    sample_id, vessel_no, step,
    arg_max(done_at, entry_no)        as done_at,
    arg_max_null(person_id, entry_no) as person_id
from vessel_step
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by sample_id, vessel_no, step
having arg_max(is_done, entry_no);

create or replace view known_vessel_dosed as
select vessel_dosed.* exclude (is_done, recorded_at)
from vessel_dosed
where vessel_dosed.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
qualify is_done and entry_no = max(entry_no) over (partition by sample_id, vessel_no);

-- What was taken from a stock: by vessels (a shared one once) and by dilutions made from it. A dose that
-- was corrected counts as taken when it was first stated, so that what was found to be left since then
-- holds.
create or replace view known_stock_use as
with taken_back as (
    select sample_id, vessel_no, max(entry_no) as entry_no
    from vessel_dosed
    where not is_done and recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
    group by sample_id, vessel_no
),

first_stated as (
    select vessel_dosed.sample_id, vessel_dosed.vessel_no, min(vessel_dosed.entry_no) as entry_no
    from vessel_dosed
    left join taken_back using (sample_id, vessel_no)
    where is_done
      and vessel_dosed.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
      and vessel_dosed.entry_no > coalesce(taken_back.entry_no, 0)
    group by vessel_dosed.sample_id, vessel_dosed.vessel_no
)

select
    known_vessel_dosed.stock_id,
    max(first_stated.entry_no) as entry_no,
    any_value(amount)          as amount
from known_vessel_dosed
join first_stated using (sample_id, vessel_no)
join sample using (sample_id)
join sitting using (sitting_id)
where stock_id is not null
group by
    stock_id, session_id, mark, vessel_no, case when is_shared then '' else sample_id end

union all

select made_from as stock_id, stock.entry_no, taken_ul as amount
from stock
where made_from is not null and stock.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity');

-- What each vessel of a sample held when it was dosed, those put away left out; its age in minutes at the
-- start of the sitting, never less than nothing.
create or replace view prepared_vessel as
select
    sample_id,
    vessel_no,
    case when kind = 'solution' then amount::double * strength::double else 0 end as added_ug,
    case when kind <> 'solution' then amount::double * strength::double else 0 end
        as added_times_l,
    known_vessel_dosed.volume_ml::double / 1000                              as volume_l,
    greatest(date_diff('second', dosed_at, starts_at) / 60.0, 0)             as age_minutes,
    coalesce(expires_on < session_on, false)                                 as has_expired_lot,
    half_life_h::double                                                      as half_life_h
from known_vessel_dosed
join sample using (sample_id)
join sitting using (sitting_id)
join session using (session_id)
left join (
    select sitting_id, arg_max(starts_at, entry_no) as starts_at
    from sitting_time
    where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
    group by sitting_id
) as start using (sitting_id)
left join stock using (stock_id)
left join known_stock_state using (stock_id)
asof left join known_keeping
    on  known_keeping.compound = sample.compound
    and known_keeping.valid_from_on <= session_on
anti join (select * from known_vessel_step where step = 'put_away') using (sample_id, vessel_no);

-- The vessels of a sample together. differs: what is left in them when they are served lies more than a
-- tenth apart, so that nobody knows what was in one glass; an age stated for the jug is that of all its
-- vessels, and what is measured in two ways can't be compared and differs.
create or replace view prepared_sample as
with held as (
    select
        prepared_vessel.*,
        case
            when known_sample_state.age_minutes is null
            then coalesce(pow(0.5, prepared_vessel.age_minutes / 60.0 / half_life_h), 1.0)
            else 1.0
        end / volume_l as left_per_l
    from prepared_vessel
    left join known_sample_state using (sample_id)
)

select
    sample_id,
    avg(age_minutes)        as age_minutes,
    max(age_minutes)        as longest_minutes,
    bool_or(has_expired_lot) as has_expired_lot,
    min(added_ug * left_per_l) < 0.9 * max(added_ug * left_per_l)
    or min(added_times_l * left_per_l) < 0.9 * max(added_times_l * left_per_l) as differs
from held
group by sample_id;

-- Preparations whose answers are kept and not for qualification, and why.
create or replace view unfit_sample as
select
    sample_id,
    coalesce(coalesce(stated_minutes, longest_minutes) > 60 * keeps_h, false) as is_kept_too_long,
    coalesce(has_expired_lot, false)                                        as has_expired_lot,
    coalesce(differs, false) and actual_level is null                       as differs
from (
    select sample_id, age_minutes as stated_minutes, actual_level from known_sample_state
)
full join prepared_sample using (sample_id)
left join known_sample_keeps using (sample_id)
where coalesce(stated_minutes, longest_minutes) > 60 * keeps_h
   or has_expired_lot
   or (differs and actual_level is null);
