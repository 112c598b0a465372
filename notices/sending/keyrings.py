"""The mail server's password in this account's keyring, where the optional library for it is installed."""

from notices.cases.outgoing import WayOutError
from notices.sending.mail_settings import MailSettings


def service(settings: MailSettings) -> str:
    """Return the name under which the keyring holds the password of a mail server's user."""
    return f"notices:{settings.host}"


def password(settings: MailSettings) -> str | None:
    """Return the password that the keyring holds for the user of mail.toml, None where there is none or no keyring.

    Raises WayOutError where there is a keyring that cannot be read: locked, or refused by the person asked.
    """
    if settings.user is None:
        return None
    try:
        import keyring  # noqa: PLC0415 - optional, and looks for backends when it is imported
        from keyring.errors import KeyringError, NoKeyringError  # noqa: PLC0415 - the same
    except ImportError:  # the extra is not installed
        return None
    try:
        return keyring.get_password(service(settings), settings.user)
    except NoKeyringError:
        return None
    except (KeyringError, OSError) as fault:
        raise WayOutError(
            f"the keyring cannot be read ({type(fault).__name__}); unlock it and try again, "
            "or give the password by NOTICES_MAIL_PASSWORD"
        ) from fault
