-- ballot_answers: what was said last of some servings, and how many answers to them are on record.
-- Params:  $servings
-- Grain:   one row per answered serving.
-- Used by: steps.ballot_seats

select
    answer.serving_id,
    arg_max(kind, answer.entry_no)                          as kind,
    arg_max_null(words, answer.entry_no)                    as words,
    arg_max_null(rating, answer.entry_no)                   as rating,
    arg_max_null(set_pick.blind_code, answer.entry_no)      as picked,
    arg_max_null(phone_answer.sureness, answer.entry_no)    as sureness,
    count(*)::integer                                       as answers
from answer
left join set_pick on set_pick.serving_id = answer.serving_id and set_pick.entry_no = answer.entry_no
left join phone_answer
    on phone_answer.serving_id = answer.serving_id and phone_answer.entry_no = answer.entry_no
where answer.serving_id in (select unnest($servings::varchar[]))
group by answer.serving_id;
