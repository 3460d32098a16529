-- session_talk_answers: what was said in one session after the talk, and how own words are read.
-- Params:  $session_id
-- Grain:   one row per serving answered after the talk.
-- Used by: steps.release_answers, steps.talk

select
    known_talk_answer.serving_id,
    known_talk_answer.kind,
    known_talk_answer.words,
    known_reading.names_one             as named_compound
from known_talk_answer
join serving using (serving_id)
join sample using (sample_id)
join sitting using (sitting_id)
left join known_reading using (words_key)
where sitting.session_id = $session_id;
