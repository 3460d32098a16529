-- own_series: everybody's ascending forced-choice series (3-AFC), for own threshold estimates.
-- Params:  $until_on
-- Grain:   one row per panellist x compound x beer family x day x level; right only if every set at
--          it was.
-- Used by: steps.glass_facts

select
    person_id, compound, family, session_on, total_level::double as level,
    bool_and(outcome = 'right') as is_right
from scored_answer
where method = '3afc'
  and not is_blank
  and total_level is not null
  and session_on <= $until_on
group by person_id, compound, family, session_on, total_level
order by person_id, compound, family, session_on, total_level;
