-- known_*: what panellists answer on, as it stood at one moment.
-- Grain:   known_link one row per seat that has a link, the newest; known_language one row per person;
--          asks_another one row per serving.
-- Reads:   ballot_link, made_anonymous, ballot_language, sample_question, sample, known_serving,
--          known_person
-- Used by: glass_outcome, rated_glass, queries/ballot_seat, queries/session_links,
--          queries/panel_languages

-- Of two links for one seat the newer holds, and none of somebody who was made anonymous; given_to is the
-- spelling under which it was handed out.
create or replace view known_link as
select
    link_digest, sitting_id, known_person.person_id, expires_at, ballot_link.entry_no, ballot_link.recorded_at,
    ballot_link.person_id as given_to
from ballot_link
join known_person on known_person.spelled_id = ballot_link.person_id
where ballot_link.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
  and known_person.person_id not in (select person_id from made_anonymous)
qualify ballot_link.entry_no = max(ballot_link.entry_no) over (partition by sitting_id, known_person.person_id);

create or replace view known_language as
select known_person.person_id, arg_max(language, entry_no) as language
from ballot_language
join known_person on known_person.spelled_id = ballot_language.person_id
where ballot_language.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by known_person.person_id;

-- Servings that ask about one compound while another was in the glass, since glasses were swapped or
-- so planned: neither a hit nor a rating of what was in it.
create or replace view asks_another as
select known_serving.serving_id
from sample_question
join known_serving on known_serving.planned_sample_id = sample_question.sample_id
join sample as poured on poured.sample_id = known_serving.sample_id
where known_serving.method in ('a_not_a', 'intensity')
  and poured.compound <> sample_question.compound;
