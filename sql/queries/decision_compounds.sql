-- decision_compounds: where each compound stood on the day of a signature.
-- Params:  (none)
-- Grain:   one row per decision x compound, by label.
-- Used by: steps.decisions, steps.recomputing

select decision_id, decision_compound.compound, label, standing, decision_compound.until_on
from decision_compound
join known_decision using (decision_id)
join compound using (compound)
order by decision_id, label;
