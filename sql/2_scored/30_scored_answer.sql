-- glass_outcome: says what a hit is.
-- Purpose: puts each answer beside what was in the glass, whether it counts or not.
--          right   the compound's name (or a synonym), words that are accepted for it, or the right
--                  pick in a forced choice
--          wrong   another compound's name, words that stand for none or are accepted for others only,
--                  or the wrong pick
--          noticed "something", without a name: perceived, not named right
--          open    own words whose meaning nobody has said yet: perceived, right or wrong not known
--          missed  nothing noticed
--          In a blank: right = nothing noticed; wrong and noticed = a call. A/not-A: "yes" to a spiked
--          glass is right and to a blank wrong, "no" the other way round (missed, right); none where
--          it asked about another compound than the one in the glass.
--          named_compound of words that may mean several: the glass's own compound where they are right
--          for it, since they found it; else none, since nobody can tell which one was meant. So a wrong
--          one is a call and a wrong name, but never a call of one compound, nor half of a mix-up. The
--          beer may explain a call in a blank if it may explain any of right_for.
--          A batch that is tasted for its release has no right answer, and whether a glass is a certain
--          beer is asked and counted apart: both stay out.
-- Grain:   one row per answered serving whose method has an outcome.
-- Reads:   known_serving, known_answer, known_person, known_reading, sample_level, asks_another,
--          unknown_sample, beer_question
-- Used by: answered_glass, scored_answer

create or replace view glass_outcome as

select
    known_serving.serving_id,
    known_person.person_id,
    sample_level.session_id,
    sample_level.session_on,
    sample_level.sitting_id,
    sample_level.sample_id,
    sample_level.family,
    sample_level.beer,
    sample_level.compound,
    sample_level.compound is null             as is_blank,
    known_serving.method,
    known_serving.duplicate_mark,
    sample_level.total_level,
    coalesce(sample_level.background_level, 0) as background_level,
    known_answer.words,
    case
        when list_contains(known_reading.right_for, sample_level.compound) then sample_level.compound
        else known_reading.names_one
    end                                       as named_compound,
    known_reading.right_for,
    case
        when kind in ('right', 'wrong') then kind
        when kind = 'yes' and sample_level.compound is null then 'wrong'
        when kind = 'yes' or (kind = 'no' and sample_level.compound is null) then 'right'
        when kind = 'no' then 'missed'
        when kind = 'something' then 'noticed'
        when kind = 'words' and known_reading.words_key is null then 'open'
        when kind = 'words' and list_contains(known_reading.right_for, sample_level.compound)
            then 'right'
        when kind = 'words' then 'wrong'
        when kind = 'nothing' and sample_level.compound is null then 'right'
        when kind = 'nothing' then 'missed'
    end                                       as outcome
from known_serving
join known_answer using (serving_id)
join known_person on known_person.spelled_id = known_serving.person_id
join sample_level using (sample_id)
left join known_reading using (words_key)
anti join asks_another on asks_another.serving_id = known_serving.serving_id
anti join unknown_sample on unknown_sample.sample_id = sample_level.sample_id
anti join beer_question as poured on poured.sample_id = sample_level.sample_id
anti join beer_question as asked on asked.sample_id = known_serving.planned_sample_id
where known_serving.method in ('naming', '3afc', 'triangle', 'duo_trio', '2afc', 'a_not_a');


-- answered_glass: the same, and for each why it may not count.
-- Grain:   as glass_outcome.
-- Reads:   glass_outcome, known_aside, known_open_session, known_own_preparation, unfit_sample
-- Used by: queries/session_outcomes, queries/sample_tally

create or replace view answered_glass as
select
    *,
    serving_id in (select serving_id from known_aside)         as is_aside,
    session_id in (select session_id from known_open_session)  as is_open,
    (session_id, person_id) in (
        select (session_id, person_id) from known_own_preparation
    )                                                          as is_own_preparation,
    sample_id in (select sample_id from unfit_sample)          as is_unfit
from glass_outcome;


-- scored_answer: the answers that are evidence.
-- Grain:   one row per answered serving of a closed session that is not set aside, and that its
--          panellist did not prepare with the codes in their own hands, nor kept past its limit, nor from
--          a lot that had expired.
-- Reads:   glass_outcome, known_aside, known_open_session, known_own_preparation, unfit_sample
-- Used by: every view of 3_evidence

create or replace view scored_answer as
select glass_outcome.*
from glass_outcome
anti join known_aside using (serving_id)
anti join known_open_session using (session_id)
anti join known_own_preparation using (session_id, person_id)
anti join unfit_sample using (sample_id);
