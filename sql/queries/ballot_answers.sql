-- ballot_answers: what was said of some servings, each answer with what came beside it.
-- Params:  $servings
-- Grain:   one row per answer, oldest first.
-- Used by: steps.ballot_seats

select
    answer.serving_id,
    kind,
    words,
    rating,
    set_pick.blind_code     as picked,
    phone_answer.sureness
from answer
left join set_pick on set_pick.serving_id = answer.serving_id and set_pick.entry_no = answer.entry_no
left join phone_answer
    on phone_answer.serving_id = answer.serving_id and phone_answer.entry_no = answer.entry_no
where list_contains($servings::varchar[], answer.serving_id)
order by answer.entry_no;
