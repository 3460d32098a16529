-- shelf_files: shelf files taken in, so that the same file twice adds nothing.
-- Params:  (none)
-- Grain:   one row per file.
-- Used by: steps.bring_in

select file_digest
from shelf_file;
