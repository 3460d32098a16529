-- panel_not_served: what somebody is not to be served, compounds and beers by their keys.
-- Params:  (none)
-- Grain:   one row per person x thing in force.
-- Used by: steps.panel

select person_id, kind, what
from known_not_served
order by person_id, kind, what;
