"""The owners' web pages: one question a page, in their language, with no login, cookie, tracker or script."""
