-- shared_glasses: glasses of one sitting that two people both answered under one code or position.
-- Params:  $one, $other
-- Grain:   one row per such glass of the first person.
-- Used by: steps.people

with glass as (
    select
        known_person.person_id,
        sample.sitting_id,
        serving.method,
        coalesce('code ' || serving.blind_code, 'position ' || serving.position) as place
    from serving
    join known_person on known_person.spelled_id = serving.person_id
    join sample using (sample_id)
    where known_person.person_id in ($one, $other)
)

select sitting_id, method, place
from glass
where person_id = $one
  and place is not null
  and (sitting_id, method, place) in (
      select (sitting_id, method, place) from glass where person_id = $other
  );
