-- counted_days: glasses of countable strength, day by day, all compounds together.
-- Purpose: a recheck looks at them; own words whose meaning is still open count neither way.
-- Params:  $until_on, $lowest_level, $highest_level
-- Grain:   one row per panellist x beer family x day with such a glass.
-- Used by: steps.standings

select
    person_id,
    family,
    session_on,
    count(*)::integer                                    as glasses,
    (count(*) filter (where outcome = 'right'))::integer as hits
from naming_glass
where session_on <= $until_on
  and outcome <> 'open'
  and round(total_level, 6) between $lowest_level and $highest_level
group by person_id, family, session_on
order by person_id, family, session_on;
