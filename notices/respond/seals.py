"""The signed hidden fields: that this reader gave the signs of a unit, or typed a code, within the last two hours."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from hashlib import sha256

from itsdangerous import BadData, URLSafeSerializer

from notices.cases.events import instant, moment
from notices.work.answers import Proof
from notices.work.claiming import Claim

GOOD_FOR = timedelta(hours=2)


@dataclass(frozen=True, slots=True)
class Seals:
    """Writes and opens the hidden fields with the register's own key (HMAC-SHA-256); they lie in forms only."""

    key: bytes

    def proof(self, proof: Proof, now: datetime) -> str:
        """Write that the signs of this unit were given."""
        return self._sealed("signs", {"unit": proof.unit_id, "owner": proof.owner_id}, now)

    def read_proof(self, text: str, now: datetime) -> Proof | None:
        """Return the proof, None where it is not ours or older than two hours."""
        content = self._opened("signs", text, now)
        if content is None:
            return None
        return Proof(unit_id=content["unit"] or "", owner_id=content["owner"])

    def claim(self, claim: Claim, now: datetime) -> str:
        """Write which code was typed, and under which id it would be listed."""
        return self._sealed("claim", {"unit": claim.unit_id, "code": claim.code}, now)

    def read_claim(self, text: str, now: datetime) -> Claim | None:
        """Return the claim, None where it is not ours or older than two hours."""
        content = self._opened("claim", text, now)
        if content is None:
            return None
        return Claim(unit_id=content["unit"] or "", code=content["code"])

    def _serializer(self, salt: str) -> URLSafeSerializer:
        options = {"key_derivation": "hmac", "digest_method": sha256}
        return URLSafeSerializer(self.key, salt=salt, signer_kwargs=options)

    def _sealed(self, salt: str, content: dict[str, str | None], now: datetime) -> str:
        whole = {**content, "until": instant(now + GOOD_FOR)}
        return str(self._serializer(salt).dumps(whole))

    def _opened(self, salt: str, text: str, now: datetime) -> dict[str, str | None] | None:
        try:
            content: dict[str, str | None] = self._serializer(salt).loads(text)
        except BadData:
            return None
        return content if moment(content["until"] or "") >= now else None
