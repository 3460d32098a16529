-- panel_beers: base beers that have a name.
-- Params:  (none)
-- Grain:   one row per beer.
-- Used by: steps.kept_about, steps.panel

select beer, label
from known_beer
where beer <> ''
order by label;
