-- bench_stocks: every lot that ever stood on the bench, with its state and what was taken from it.
-- Params:  (none)
-- Grain:   one row per stock, the compound's label first, then the oldest first.
-- Used by: steps.bench, steps.bench_facts, steps.bench_states, steps.bench_writing, steps.dilutions, steps.dose_warnings
-- Note:    used counts what was taken after somebody last found how much was left; from the full amount
--          on if nobody did.

select
    stock.* exclude (recorded_at),
    compound.label                as compound_label,
    compound.serve,
    state.opened_on,
    state.expires_on,
    state.found_left,
    coalesce(state.is_used_up, false) as is_used_up,
    coalesce((
        select sum(used.amount)
        from known_stock_use as used
        where
            used.stock_id = stock.stock_id
            and used.entry_no > coalesce(state.found_entry_no, 0)
    ), 0)                         as used
from stock
cross join known_moment
join compound using (compound)
left join known_stock_state as state using (stock_id)
where stock.recorded_at <= known_at
order by lower(compound.label), stock.entry_no, stock.stock_id;
