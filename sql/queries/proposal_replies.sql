-- proposal_replies: what the persons concerned said to their proposals.
-- Params:  (none)
-- Grain:   one row per reply, in the order of recording.
-- Used by: steps.proposals_put

select known_reply.proposal_id, known_reply.kind, words, known_reply.recorded_at
from known_reply
order by known_reply.entry_no;
