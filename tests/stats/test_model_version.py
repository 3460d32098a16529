from hashlib import sha256

from seatworthy.stats.ability.settings import DEFAULT, MODEL_VERSION

# The numbers that each version of the model had, as a digest of their text: a decision names the
# version, so a number may not change under the same name.
NUMBERS = {"ability 1": "0231183e6e5f0716"}


def test_the_numbers_of_a_version_never_change():
    digest = sha256(repr(DEFAULT).encode()).hexdigest()[:16]
    assert NUMBERS[MODEL_VERSION] == digest
