-- beers_to_weigh: beers of release sittings whose talk is open or which are closed, not weighed yet.
-- Params:  $after_on
-- Grain:   one row per sample of a batch, the latest session first.
-- Used by: steps.weigh_sittings

select
    sample_id,
    known_batch.label,
    known_beer.label as beer_label,
    session.label    as session_label,
    session.session_on
from unknown_sample
join known_batch using (batch_id)
join known_beer using (beer)
join sample using (sample_id)
join sitting using (sitting_id)
join session using (session_id)
left join session_end using (session_id)
where session_on > $after_on
  and (how = 'closed' or (how is null and sitting_id in (select sitting_id from known_talk)))
  and sample_id not in (select sample_id from weighed_call where sample_id is not null)
order by session_on desc, session.label, known_batch.label;
