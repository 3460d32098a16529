-- beer_shares: how often beers of a family have a fault, as somebody stated it.
-- Params:  $family
-- Grain:   one row per compound (or 'unlisted') of which it was stated.
-- Used by: steps.weigh_priors

select what, share
from known_share
where family = $family
order by what;
