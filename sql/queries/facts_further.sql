-- facts_further: whether anything is on record at all that the later forms of the facts' text add.
-- Purpose: each column is named after its query, which finds no line where it says no; most breweries
--          never need them, and they take as long to ask as the facts themselves.
-- Params:  (none)
-- Grain:   one row.
-- Used by: steps.facts_text

select
    exists (from vessel_dosed) or exists (from sample_keeps) as facts_prepared,
    exists (from accepted_words)                             as facts_accepted,
    exists (from beer_question)                              as facts_beers;
