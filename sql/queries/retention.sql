-- retention: for how many months after their last sitting the brewery keeps people; null for no end.
-- Params:  (none)
-- Grain:   one row, or none if nobody ever said so.
-- Used by: steps.retention

select keep_months
from retention
order by entry_no desc
limit 1;
