-- batch_crew: who belongs to the crew that made a batch.
-- Params:  (none)
-- Grain:   one row per batch x person.
-- Used by: steps.batches, steps.kept_about, steps.talk_sentences

select batch_id, person_id, spelling
from known_crew
join person_name using (person_id)
order by batch_id, spelling;
