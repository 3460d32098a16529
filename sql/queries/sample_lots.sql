-- sample_lots: from which lot each preparation was dosed.
-- Params:  $until_on
-- Grain:   one row per sample x lot that went into one of its vessels, oldest first.
-- Used by: steps.months_slips

select distinct
    sample.sample_id,
    sample.compound,
    stock.stock_id,
    stock.lot,
    session_on
from known_vessel_dosed
join sample using (sample_id)
join sitting using (sitting_id)
join session using (session_id)
join stock on stock.stock_id = known_vessel_dosed.stock_id
where session_on <= $until_on
  and stock.compound = sample.compound
order by session_on, stock.stock_id, sample.sample_id;
