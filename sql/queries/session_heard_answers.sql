-- session_heard_answers: glasses of one session answered by phone after a talk was opened at their sitting.
-- Purpose: opening a talk shows what everybody said. Where that was taken back, whoever answers anew may
--          have heard the others, so their word is not blind to them.
-- Params:  $session_id
-- Grain:   one row per such serving.
-- Used by: steps.weigh_sittings

with opened as (
    select talk.sitting_id, min(entry_no) as entry_no
    from talk
    cross join known_moment
    where is_open and recorded_at <= known_at
    group by talk.sitting_id
)

select distinct phone_answer.serving_id
from phone_answer
join serving using (serving_id)
join sample using (sample_id)
join sitting using (sitting_id)
join opened using (sitting_id)
where sitting.session_id = $session_id
  and phone_answer.entry_no > opened.entry_no;
