-- history_people: whom each act of recording was about.
-- Params:  (none)
-- Grain:   one row per history entry x person concerned.
-- Used by: steps.history_lines

with concerned as (
    select entry_no, person_id from person
    union
    select entry_no, person_id from same_person
    union
    select entry_no, stands_for from same_person
    union
    select entry_no, person_id from panellist
    union
    select entry_no, person_id from not_served
    union
    select entry_no, person_id from sitting_person
    union
    select entry_no, person_id from spare_taken
    union
    select entry_no, person_id from ballot_link
    union
    select entry_no, person_id from ballot_language
    union
    select entry_no, person_id from preparer
    union
    select entry_no, person_id from recoding where person_id is not null
    union
    select entry_no, person_id from serving
    union
    select answer.entry_no, person_id from answer join serving using (serving_id)
    union
    select set_aside.entry_no, person_id from set_aside join serving using (serving_id)
    union
    select correction.entry_no, person_id from correction join serving using (serving_id)
    union
    select glass_event.entry_no, person_id from glass_event join serving using (serving_id)
    union
    select poured_instead.entry_no, person_id from poured_instead join serving using (serving_id)
    union
    select entry_no, person_id from signer
    union
    select entry_no, person_id from proposal
    union
    select proposal_reply.entry_no, person_id from proposal_reply join proposal using (proposal_id)
    union
    select entry_no, person_id from decision
    union
    select entry_no, signed_by from decision
    union
    select entry_no, person_id from batch_crew
    union
    select talk_answer.entry_no, person_id from talk_answer join serving using (serving_id)
    union
    select entry_no, person_id from chosen_person
    union
    select entry_no, person_id from weighed_word
    union
    select entry_no, person_id from made_anonymous
    union
    select entry_no, person_id from kept_longer
    union
    select entry_no, person_id from person_copy
)

select distinct concerned.entry_no, known_person.person_id
from concerned
join history using (entry_no)
cross join known_moment
join known_person on known_person.spelled_id = concerned.person_id
where history.recorded_at <= known_at;
