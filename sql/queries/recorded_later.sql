-- recorded_later: how much of what is said of a day was recorded only after it.
-- Purpose: imported history was true on its day and on record only from its import on.
-- Params:  $until_on, $end_of_day
-- Grain:   one row; later_at is null where nothing was recorded later.
-- Used by: steps.two_questions

select
    count(*)                                                    as answers,
    count(*) filter (where answer.recorded_at > $end_of_day)      as later,
    max(answer.recorded_at) filter (where answer.recorded_at > $end_of_day) as later_at,
    coalesce(
        bool_and(history.kind = 'results') filter (where answer.recorded_at > $end_of_day), false
    )                                                            as is_imported
from answer
join history using (entry_no)
join serving using (serving_id)
join sample using (sample_id)
join sitting using (sitting_id)
join session using (session_id)
where session_on <= $until_on;
