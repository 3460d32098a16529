-- session_vessels: what really went into each vessel of a session, at each sitting that it serves.
-- Params:  $session_id
-- Grain:   one row per sample x vessel that was dosed.
-- Used by: steps.vessels

select
    known_vessel_dosed.sample_id,
    vessel_no,
    is_shared,
    stock_id,
    coalesce(stock.label, '')         as stock,
    coalesce(stock.lot, '')           as lot,
    coalesce(stock.kind, '')          as stock_kind,
    stock.strength,
    known_vessel_dosed.pipette_id,
    coalesce(known_pipette.label, '') as pipette,
    setting_ul,
    shots,
    amount,
    known_vessel_dosed.volume_ml,
    dosed_at,
    known_person.person_id
from known_vessel_dosed
join sample using (sample_id)
join sitting using (sitting_id)
left join stock using (stock_id)
left join known_pipette on known_pipette.pipette_id = known_vessel_dosed.pipette_id
left join known_person on known_person.spelled_id = known_vessel_dosed.person_id
where session_id = $session_id
order by mark, vessel_no, known_vessel_dosed.sample_id;
