-- weighed_words: what was said in the weighed calls that were kept.
-- Params:  (none)
-- Grain:   one row per weighed call x taster.
-- Used by: steps.weighing_rows

select weighing_id, known_person.person_id, kind, compound
from weighed_word
cross join known_moment
join known_person on known_person.spelled_id = weighed_word.person_id
where weighed_word.recorded_at <= known_at
order by weighing_id, weighed_word.entry_no, weighed_word.person_id;
