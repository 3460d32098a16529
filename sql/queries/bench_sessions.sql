-- bench_sessions: in which sessions something of a stock was dosed.
-- Params:  (none)
-- Grain:   one row per stock x session, vessels that were put away left out.
-- Used by: steps.bench_states

select distinct
    stock_id,
    session_id,
    session_on
from known_vessel_dosed
join sample using (sample_id)
join sitting using (sitting_id)
join session using (session_id)
where
    stock_id is not null
    and (sample_id, vessel_no) not in (
        select (sample_id, vessel_no) from known_vessel_step where step = 'put_away'
    )
order by session_on, session_id, stock_id;
