-- names_stamp: number of the last entry that may have changed which names a ballot offers.
-- Params:  (none)
-- Grain:   one row.
-- Used by: steps.names_offered

select greatest(
    (select coalesce(max(entry_no), 0) from compound),
    (select coalesce(max(entry_no), 0) from synonym),
    (select coalesce(max(entry_no), 0) from working_threshold),
    (select coalesce(max(entry_no), 0) from family_compound),
    (select coalesce(max(entry_no), 0) from beer_family),
    (select coalesce(max(entry_no), 0) from rulebook)
) as entry_no;
