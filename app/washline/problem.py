"""The two kinds of failure: what the world did wrong is a ``UserError``; everything else is a bug and keeps its trace."""


class UserError(Exception):
    """A fault of the world (a full disk, a damaged file, a text that is no amount), told so that a person can act.

    ``what`` is one sentence of what happened, ``cause`` why, ``remedy`` what to do; the last two may be empty.
    """

    def __init__(self, what: str, cause: str = "", remedy: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.cause = cause
        self.remedy = remedy

    def __str__(self) -> str:
        return " ".join(part for part in (self.what, self.cause, self.remedy) if part)
