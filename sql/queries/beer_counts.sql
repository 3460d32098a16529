-- beer_counts: how often each panellist said yes to a beer in a window, by what the glass really was.
-- Params:  $after_on, $until_on
-- Grain:   one row per panellist x beer x variant with a glass.
-- Used by: steps.known_beers

select
    person_id,
    beer,
    variant,
    sum(glasses)::integer  as glasses,
    sum(said_yes)::integer as said_yes
from beer_count
where session_on > $after_on
  and session_on <= $until_on
group by person_id, beer, variant
order by person_id, beer, variant;
