-- facts_prepared: how the glasses were prepared that a seat of one panellist rests on, as canonical text.
-- Purpose: stands beside the lines of "facts" in the second form of the text; where nothing was written
--          down of any preparation there is no line, and the first form holds.
-- Params:  $person_id, $until_on
-- Grain:   one row per fact, sorted by its text.
-- Used by: steps.facts_text

with poured as (
    select distinct sample_id, sitting_id
    from known_serving
    join known_answer using (serving_id)
    join known_person on known_person.spelled_id = known_serving.person_id
    join sample using (sample_id)
    join sitting using (sitting_id)
    join session using (session_id)
    where known_person.person_id = $person_id
      and session_on <= $until_on
      and session_id not in (select session_id from known_open_session)
),

dosed as (
    select known_vessel_dosed.*, poured.sitting_id
    from known_vessel_dosed
    join poured using (sample_id)
),

fact as (
    select 'vessel' as what, [
        sample_id, vessel_no::varchar, stock_id, amount::varchar, volume_ml::varchar,
        dosed_at::varchar,
        ((sample_id, vessel_no) in (
            select (sample_id, vessel_no) from known_vessel_step where step = 'put_away'
        ))::varchar
    ] as parts
    from dosed

    union all
    select distinct 'stock', [stock_id, compound, kind, strength::varchar, expires_on::varchar]
    from dosed
    join stock using (stock_id)
    left join known_stock_state using (stock_id)

    union all
    select 'keeps', [sample_id, keeps_h::varchar]
    from known_sample_keeps
    where sample_id in (select sample_id from poured)

    union all
    select 'start', [sitting_id, arg_max(starts_at, entry_no)::varchar]
    from sitting_time, known_moment
    where recorded_at <= known_at and sitting_id in (select sitting_id from dosed)
    group by sitting_id
)

select array_to_string(list_prepend(what, list_transform(parts, lambda part: coalesce(part, chr(30)))), chr(31))
    as fact
from fact
order by fact;
