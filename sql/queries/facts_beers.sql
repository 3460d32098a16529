-- facts_beers: which glasses of one panellist asked for a beer, and what they really were, as canonical text.
-- Purpose: stands beside the lines of "facts" in the fourth form of the text; the answers themselves are
--          among those lines. Where nothing was asked of a beer there is no line, and the other forms hold.
-- Params:  $person_id, $until_on
-- Grain:   one row per fact, sorted by its text.
-- Used by: steps.facts_text

with own as (
    select serving_id, known_serving.sample_id, planned_sample_id
    from known_serving
    join known_answer using (serving_id)
    join known_person on known_person.spelled_id = known_serving.person_id
    join (select sample_id, sitting_id from sample) as poured using (sample_id)
    join sitting using (sitting_id)
    join session using (session_id)
    where known_person.person_id = $person_id
      and method = 'a_not_a'
      and session_on <= $until_on
      and session_id not in (select session_id from known_open_session)
),

fact as (
    select 'asked for a beer' as what, [serving_id, beer_question.sample_id, beer_question.beer, variant] as parts
    from own
    cross join known_moment
    join beer_question on beer_question.sample_id in (own.sample_id, planned_sample_id)
    where beer_question.recorded_at <= known_at
)

select distinct array_to_string(list_prepend(what, parts), chr(31)) as fact
from fact
order by fact;
