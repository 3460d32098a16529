-- brewery: its name and time zone, the last stated.
-- Params:  (none)
-- Grain:   one row, or none.
-- Used by: steps.audit_words, steps.desk, steps.feedback, steps.papers, steps.plan_choices, steps.weigh_papers

select label, time_zone
from brewery, known_moment
where recorded_at <= known_at
order by entry_no desc
limit 1;
