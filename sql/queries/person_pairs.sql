-- person_pairs: what one panellist said to both glasses of each hidden pair.
-- Params:  $person_id, $after_on, $until_on
-- Grain:   one row per pair; "" stands for nothing noticed, "?" for something without a known name.
-- Used by: steps.own_history, steps.reasons

with said as (
    select
        sitting_id, session_on, duplicate_mark, sample_id, serving_id,
        case
            when outcome in ('noticed', 'open') then '?'
            else coalesce(named_compound, words, '')
        end as said
    from scored_answer
    where method = 'naming'
      and duplicate_mark is not null
      and person_id = $person_id
      and session_on > $after_on
      and session_on <= $until_on
)

select
    session_on,
    min_by(said, serving_id) as first,
    max_by(said, serving_id) as second
from said
group by sitting_id, session_on, duplicate_mark, sample_id
having count(*) >= 2
order by session_on, sitting_id, duplicate_mark;
