-- session_by_phone: which glasses of one session were last answered by phone.
-- Params:  $session_id
-- Grain:   one row per serving whose newest answer came by phone.
-- Used by: steps.sheets

select answer.serving_id
from answer
join serving using (serving_id)
join sample using (sample_id)
join sitting using (sitting_id)
left join phone_answer
    on phone_answer.serving_id = answer.serving_id and phone_answer.entry_no = answer.entry_no
where session_id = $session_id
group by answer.serving_id
having arg_max(phone_answer.entry_no is not null, answer.entry_no);
