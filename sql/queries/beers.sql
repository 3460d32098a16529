-- beers: base beers on the shelf.
-- Params:  (none)
-- Grain:   one row per beer.
-- Used by: steps.bring_in, steps.known_beers, steps.plan_choices, steps.session_care

select beer, label, family
from known_beer
order by beer;
