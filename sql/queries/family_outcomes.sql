-- family_outcomes: what weighed beers of a family turned out to have.
-- Purpose: a batch that was weighed more than once is one beer, and has what was stated of it last.
-- Params:  $family
-- Grain:   one row per what was found ('nothing', 'unlisted' or a compound).
-- Used by: steps.weigh_priors

with beer as (
    select
        coalesce(weighed_call.batch_id, weighing_id)       as beer,
        arg_max(known_outcome.what, known_outcome.entry_no) as what
    from known_outcome
    join weighed_call using (weighing_id)
    where weighed_call.family = $family
    group by beer
)

select what, count(*) as beers
from beer
group by what
order by what;
