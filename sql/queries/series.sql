-- series: ascending forced-choice series (3-AFC), for best-estimate thresholds.
-- Params:  $family, $until_on
-- Grain:   one row per panellist x compound x day x level; right only if every set at it was.
-- Used by: steps.panel_needs

select
    compound, session_on, person_id, total_level::double as level,
    bool_and(outcome = 'right') as is_right
from scored_answer
where method = '3afc'
  and not is_blank
  and family = $family
  and total_level is not null
  and session_on <= $until_on
group by compound, session_on, person_id, total_level
order by compound, session_on, person_id, total_level;
