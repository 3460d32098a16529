-- shelf_dosed: past sessions in which a compound was dosed by amount, so that its level is reckoned
--              from the shelf.
-- Params:  $compounds, $family, $beer, $since_on
-- Grain:   one row per session.
-- Used by: steps.shelf_amounts

select distinct session.session_id, session_on, session.label
from sample
join sitting using (sitting_id)
join session using (session_id)
left join known_beer using (beer)
where dose_ug is not null
  and session_on >= $since_on
  and list_contains($compounds, compound)
  and $family in ('', coalesce(known_beer.family, 'house'))
  and ($beer is null or sample.beer = $beer)
order by session_on, session.label;
