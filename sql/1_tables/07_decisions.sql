-- 07_decisions: the rules in force, what they proposed, what was said to it, and what was signed.
-- Grain:   rulebook one row per adopted text; signer one row per statement who may sign; proposal one
--          row per seat put before the person concerned; proposal_reply one row per reply; decision
--          one row per signature; decision_compound one row per compound of a decision.
-- Note:    nothing here is ever changed: a later decision about the same seat stands beside the
--          earlier one. A PIN is kept as a scrypt digest, outside the history. Free text is kept
--          beside the history; its salted digest enters it. facts_digest is the SHA-256 over the
--          canonical text of the facts, never over numbers that were worked out.

create table rulebook (
    rulebook_digest varchar   primary key check (length(rulebook_digest) = 64),
    name            varchar   not null,
    version         integer   not null check (version > 0),
    counts_from_on  date      not null,
    rulebook_text   varchar   not null,
    entry_no        integer   not null,
    recorded_at     timestamp not null
);

create table signer (
    person_id   varchar   not null references person (person_id),
    is_signer   boolean   not null,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (person_id, entry_no)
);

create table signer_pin (
    person_id  varchar   not null references person (person_id),
    pin_salt   varchar   not null,
    pin_digest varchar   not null,
    set_at     timestamp not null,
    primary key (person_id, set_at)
);

create table proposal (
    proposal_id     varchar   primary key check (length(proposal_id) = 16),
    person_id       varchar   not null references person (person_id),
    family          varchar   not null,
    state           varchar   not null check (state in (
        'trainee', 'probation', 'qualified', 'paused', 'suspended', 'withdrawn'
    )),
    as_of_on        date      not null,
    until_on        date,
    rulebook_digest varchar   not null references rulebook (rulebook_digest),
    model_version   varchar   not null,
    facts_digest    varchar   not null check (length(facts_digest) = 64),
    entry_no        integer   not null,
    recorded_at     timestamp not null
);

create table proposal_reply (
    proposal_id  varchar   not null references proposal (proposal_id),
    kind         varchar   not null check (kind in ('seen', 'remark', 'recheck', 'withdrawn')),
    words        varchar,
    words_salt   varchar,
    words_digest varchar,
    entry_no     integer   not null,
    recorded_at  timestamp not null,
    primary key (proposal_id, entry_no)
);

create table decision (
    decision_id     varchar   primary key check (length(decision_id) = 16),
    proposal_id     varchar   references proposal (proposal_id),
    person_id       varchar   not null references person (person_id),
    family          varchar   not null,
    state           varchar   not null check (state in (
        'trainee', 'probation', 'qualified', 'paused', 'suspended', 'withdrawn'
    )),
    from_on         date      not null,
    until_on        date      check (until_on >= from_on),
    proposed_state  varchar,
    as_of_on        date      not null,
    rulebook_digest varchar   not null references rulebook (rulebook_digest),
    model_version   varchar   not null,
    facts_digest    varchar   not null check (length(facts_digest) = 64),
    reason          varchar,
    reason_salt     varchar,
    reason_digest   varchar,
    signed_by       varchar   not null references person (person_id),
    entry_no        integer   not null,
    recorded_at     timestamp not null,
    check (until_on is not null or state not in ('probation', 'qualified'))
);

create table decision_compound (
    decision_id varchar   not null references decision (decision_id),
    compound    varchar   not null references compound (compound),
    standing    varchar   not null check (standing in (
        'met', 'not_met', 'too_little', 'insensitive'
    )),
    until_on    date,
    entry_no    integer   not null,
    recorded_at timestamp not null,
    primary key (decision_id, compound)
);
