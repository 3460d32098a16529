-- person_days: one panellist's naming glasses of countable strength, day by day.
-- Params:  $person_id, $until_on, $lowest_level, $highest_level
-- Grain:   one row per day with such a glass; own words without a meaning count neither way.
-- Used by: steps.own_history

select
    session_on,
    count(*)::integer                                    as glasses,
    (count(*) filter (where outcome = 'right'))::integer  as hits,
    (count(*) filter (where outcome <> 'missed'))::integer as calls
from naming_glass
where person_id = $person_id
  and session_on <= $until_on
  and outcome <> 'open'
  and round(total_level, 6) between $lowest_level and $highest_level
group by session_on
order by session_on;
