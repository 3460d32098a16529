-- family_outcomes: what weighed beers of a family turned out to have.
-- Params:  $family
-- Grain:   one row per what was found ('nothing', 'unlisted' or a compound).
-- Used by: steps.weigh_priors

select known_outcome.what, count(*) as beers
from known_outcome
join weighed_call using (weighing_id)
where weighed_call.family = $family
group by known_outcome.what
order by known_outcome.what;
