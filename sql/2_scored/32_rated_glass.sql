-- rated_glass: intensity ratings that are evidence of repeatability and discrimination.
-- Purpose: a rating has no right or wrong and says nothing of anybody's threshold. Where another
--          compound was asked about than the one in the glass, it enters no figure of that one.
-- Grain:   one row per rated serving of a closed session that is not set aside, and that its
--          panellist did not prepare with the codes in their own hands, nor kept past its limit, nor from
--          a lot that had expired.
-- Reads:   known_serving, known_answer, known_aside, asks_another, sample_question, known_person,
--          sample_level, known_open_session, known_own_preparation, unfit_sample
-- Used by: queries/ratings

create or replace view rated_glass as
select
    known_serving.serving_id,
    known_serving.position,
    known_person.person_id,
    sample_level.session_on,
    sample_level.sitting_id,
    sample_level.sample_id,
    sample_level.family,
    sample_level.compound,
    sample_question.compound as asked,
    sample_level.total_level,
    known_serving.duplicate_mark,
    known_answer.rating
from known_serving
join known_answer using (serving_id)
join known_person on known_person.spelled_id = known_serving.person_id
join sample_level using (sample_id)
left join sample_question on sample_question.sample_id = known_serving.planned_sample_id
anti join known_aside on known_aside.serving_id = known_serving.serving_id
anti join asks_another on asks_another.serving_id = known_serving.serving_id
anti join unfit_sample on unfit_sample.sample_id = sample_level.sample_id
anti join known_open_session on known_open_session.session_id = sample_level.session_id
anti join known_own_preparation
    on  known_own_preparation.session_id = sample_level.session_id
    and known_own_preparation.person_id = known_person.person_id
where known_serving.method = 'intensity'
  and known_answer.kind = 'rating';
