-- past_places: what everybody had in earlier sessions, and at which place of their order.
-- Purpose: a plan for few people evens out over sessions what one session can't.
-- Params:  $after_on, $before_on
-- Grain:   one row per panellist x sitting x glass with a place; sessions called off and people who were
--          absent left out, and batches of which nobody knows what is in them.
-- Used by: steps.past_flights

select
    known_person.person_id,
    sample.sitting_id,
    coalesce(sample.compound, '') as compound,
    known_serving.position
from known_serving
join known_person on known_person.spelled_id = known_serving.person_id
join sample on sample.sample_id = known_serving.sample_id
join sitting using (sitting_id)
join session using (session_id)
where session_on > $after_on
  and session_on < $before_on
  and position is not null
  and known_serving.method = 'naming'
  and sample.sample_id not in (select sample_id from unknown_sample)
  and session_id not in (select session_id from session_end where how = 'called_off')
  and (sample.sitting_id, known_person.person_id) not in (
      select (sitting_id, person_id) from known_seated where state = 'absent'
  )
order by known_person.person_id, sample.sitting_id, position;
