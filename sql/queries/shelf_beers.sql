-- shelf_beers: base beers.
-- Params:  (none)
-- Grain:   one row per beer.
-- Used by: steps.shelf, steps.shelf_amounts, steps.shelf_history

select beer, label, family, abv_percent
from known_beer
order by label, beer;
