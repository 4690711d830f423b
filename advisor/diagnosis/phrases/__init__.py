"""What bakers say in their own words, heard as symptoms."""

from advisor.diagnosis.phrases.hearing import Heard, PhraseReader

__all__ = ["Heard", "PhraseReader"]
