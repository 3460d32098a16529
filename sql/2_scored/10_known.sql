-- known_*: the record as it stood at one moment.
-- Purpose: every later view reads these, so that "as the record stood on 14 March" is one variable:
--          set variable known_at on the cursor leaves out what was recorded after it. The views ask for it in their own words: dozens of them stand in
--          one query, and a join with known_moment in each takes a third more to plan and run.
-- Grain:   that of the table named after known_; of things that are restated, the last statement.
-- Reads:   the tables of 02_people, 03_shelf, 04_sessions, 06_keeping and 07_decisions, accepted_words
-- Used by: all views below, sql/queries

create or replace view known_moment as
select coalesce(getvariable('known_at')::timestamp, 'infinity'::timestamp) as known_at;

create or replace view known_same_person as
select person_id, arg_max(stands_for, entry_no) as stands_for
from same_person
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by person_id
having arg_max(is_same, entry_no);

create or replace view known_person as
select
    person.person_id                                       as spelled_id,
    coalesce(known_same_person.stands_for, person.person_id) as person_id
from person
left join known_same_person using (person_id)
where person.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity');

create or replace view known_meaning as
select words_key, arg_max_null(compound, entry_no) as compound
from synonym
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by words_key;

create or replace view known_accepted as
select words_key, compound
from accepted_words
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by words_key, compound
having arg_max(is_accepted, entry_no);

-- How own words are read: right_for are the compound they mean and those for which they are accepted
-- besides (null where there is none); names_one is that compound where they can mean but one. Words
-- that name none and are accepted for some name no one compound. Nothing here looks at a glass.
create or replace view known_reading as
select
    words_key,
    list(compound order by compound) filter (where compound is not null) as right_for,
    if(count(*) = 1, any_value(compound), null)                          as names_one
from (
    select words_key, compound from known_meaning
    union
    select words_key, compound from known_accepted
)
group by words_key;

create or replace view known_family as
select family, arg_max(label, entry_no) as label
from beer_family
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by family;

-- A family is stated with its whole lists, so those of its last statement count, empty ones too.
create or replace view known_family_compound as
select family_compound.family, item_no, compound, role
from family_compound
join (
    select family, max(entry_no) as entry_no
    from beer_family
    where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
    group by family
) using (family, entry_no);

create or replace view known_beer as
select
    beer,
    arg_max(label, entry_no)       as label,
    arg_max(family, entry_no)      as family,
    arg_max(abv_percent, entry_no) as abv_percent
from base_beer
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by beer;

create or replace view known_threshold as
select compound, family, valid_from_on, arg_max(threshold_ug_l, entry_no) as threshold_ug_l
from working_threshold
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by compound, family, valid_from_on;

create or replace view known_background as
select
    beer,
    compound,
    valid_from_on,
    arg_max(known, entry_no)                 as known,
    arg_max_null(background_ug_l, entry_no)  as background_ug_l
from background
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by beer, compound, valid_from_on;

create or replace view known_keeping as
select compound, valid_from_on, arg_max_null(half_life_h, entry_no) as half_life_h
from keeping
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by compound, valid_from_on;

create or replace view known_answer as
select
    serving_id,
    arg_max(kind, entry_no)              as kind,
    arg_max_null(words, entry_no)        as words,
    arg_max_null(words_key, entry_no)    as words_key,
    arg_max_null(words_digest, entry_no) as words_digest,
    arg_max_null(rating, entry_no)       as rating
from answer
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by serving_id;

create or replace view known_rulebook as
select rulebook_digest, name, version, counts_from_on, rulebook_text, entry_no, rulebook.recorded_at
from rulebook
where rulebook.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity');

create or replace view known_signer as
select person_id
from signer
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by person_id
having arg_max(is_signer, entry_no);

create or replace view known_proposal as
select proposal.*
from proposal
where proposal.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity');

create or replace view known_reply as
select proposal_reply.*
from proposal_reply
where proposal_reply.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity');

create or replace view known_decision as
select decision.*
from decision
where decision.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity');
