-- shelf_brewery: the brewery as it was last stated.
-- Params:  (none)
-- Grain:   one row, or none.
-- Used by: steps.shelf

select
    arg_max(label, entry_no)     as label,
    arg_max(time_zone, entry_no) as time_zone
from brewery, known_moment
where recorded_at <= known_at
having count(*) > 0;
