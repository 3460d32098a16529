-- scored_answer: says what a hit is.
-- Purpose: puts each answer beside what was in the glass.
--          right   the compound's name (or a synonym), or the right pick in a forced choice
--          wrong   another compound's name, words that stand for none, or the wrong pick
--          noticed "something", without a name: perceived, not named right
--          open    own words whose meaning nobody has said yet: perceived, right or wrong not known
--          missed  nothing noticed
--          In a blank: right = nothing noticed; wrong and noticed = a call.
-- Grain:   one row per answered serving that is not set aside and whose method has an outcome.
-- Reads:   serving, known_answer, known_aside, known_person, known_meaning, sample_level
-- Used by: every view of 3_evidence

create or replace view scored_answer as

select
    serving.serving_id,
    known_person.person_id,
    sample_level.session_id,
    sample_level.session_on,
    sample_level.sitting_id,
    sample_level.sample_id,
    sample_level.family,
    sample_level.beer,
    sample_level.compound,
    sample_level.compound is null             as is_blank,
    serving.method,
    serving.duplicate_mark,
    sample_level.total_level,
    coalesce(sample_level.background_level, 0) as background_level,
    known_answer.words,
    known_meaning.compound                    as named_compound,
    case
        when kind in ('right', 'wrong') then kind
        when kind = 'something' then 'noticed'
        when kind = 'words' and known_meaning.words_key is null then 'open'
        when kind = 'words' and known_meaning.compound = sample_level.compound then 'right'
        when kind = 'words' then 'wrong'
        when kind = 'nothing' and sample_level.compound is null then 'right'
        when kind = 'nothing' then 'missed'
    end                                       as outcome
from serving
join known_answer using (serving_id)
join known_person on known_person.spelled_id = serving.person_id
join sample_level using (sample_id)
left join known_meaning using (words_key)
where serving.method in ('naming', '3afc', 'triangle', 'duo_trio', '2afc')
  and serving.serving_id not in (select serving_id from known_aside);
