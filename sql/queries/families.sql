-- families: beer families that have a beer or a list, with the number of glasses on record.
-- Params:  $until_on
-- Grain:   one row per beer family, the most tasted first.
-- Used by: steps.seen

select
    known_family.family,
    known_family.label,
    count(scored_answer.serving_id) as glasses
from known_family
left join scored_answer
    on  scored_answer.family = known_family.family
    and scored_answer.session_on <= $until_on
group by known_family.family, known_family.label
order by glasses desc, known_family.label;
