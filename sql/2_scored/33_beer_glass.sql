-- beer_glass: answers to whether a glass is a certain beer, as it should be.
-- Purpose: such a glass tells nothing of a compound, so it is counted apart from all others. A yes is
--          right where it was that beer itself, and wrong where it was aged or a sister brand; of another
--          batch it is neither, and told beside. A glass that was swapped for one that asks of another beer, or of none, says nothing.
-- Grain:   one row per answered A/not-A serving about a beer, of a closed session, that is not set aside,
--          and that its panellist did not prepare with the codes in their own hands, nor kept past its
--          limit, nor from a lot that had expired.
-- Reads:   known_serving, known_answer, known_aside, beer_question, known_person,
--          sample_level, known_open_session, known_own_preparation, unfit_sample
-- Used by: beer_count, queries/person_beers

create or replace view beer_glass as
select
    known_serving.serving_id,
    known_person.person_id,
    sample_level.session_id,
    sample_level.session_on,
    sample_level.sample_id,
    asked.beer,
    poured.variant,
    known_answer.kind = 'yes' as said_yes
from known_serving
join known_answer using (serving_id)
join known_person on known_person.spelled_id = known_serving.person_id
join sample_level using (sample_id)
join beer_question as asked on asked.sample_id = known_serving.planned_sample_id
join beer_question as poured
    on  poured.sample_id = known_serving.sample_id
    and poured.beer = asked.beer
anti join known_aside on known_aside.serving_id = known_serving.serving_id
anti join unfit_sample on unfit_sample.sample_id = sample_level.sample_id
anti join known_open_session on known_open_session.session_id = sample_level.session_id
anti join known_own_preparation
    on  known_own_preparation.session_id = sample_level.session_id
    and known_own_preparation.person_id = known_person.person_id
where known_serving.method = 'a_not_a'
  and known_answer.kind in ('yes', 'no')
  and asked.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
  and poured.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity');
