-- month_blanks: the whole panel's blanks and calls in them, month by month.
-- Params:  $after_on, $until_on
-- Grain:   one row per month with a blank; calls the beer may explain are left out with their blank.
-- Used by: steps.months

select
    date_trunc('month', session_on)::date   as month_on,
    count(*)::integer                       as blanks,
    (count(*) filter (where is_call))::integer as false_calls
from blank_glass
where not is_possible_background
  and session_on > $after_on
  and session_on <= $until_on
group by month_on
order by month_on;
