-- cell_counts: plain counts per panellist and compound over all levels, in a window.
-- Params:  $after_on, $until_on
-- Grain:   one row per panellist x compound x beer family.
-- Used by: steps.verdicts

select
    person_id, compound, family,
    sum(glasses)::integer     as glasses,
    sum(hits)::integer        as hits,
    sum(misses)::integer      as misses,
    sum(wrong_names)::integer as wrong_names,
    sum(names_open)::integer  as names_open
from cell_count
where session_on > $after_on
  and session_on <= $until_on
group by person_id, compound, family;
