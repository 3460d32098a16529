-- last_shelf_file: the shelf file taken in last, so that the same one again adds nothing.
-- Params:  (none)
-- Grain:   one row, or none.
-- Used by: steps.bring_in

select file_digest
from shelf_file
order by entry_no desc
limit 1;
