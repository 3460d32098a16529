-- person_beers: the glasses of one panellist that asked whether they were a certain beer, in a window.
-- Params:  $person_id, $after_on, $until_on
-- Grain:   one row per glass, oldest first.
-- Used by: steps.known_beer_views

select session_on, beer, variant, said_yes
from beer_glass
where person_id = $person_id
  and session_on > $after_on
  and session_on <= $until_on
order by session_on, beer, variant, serving_id;
