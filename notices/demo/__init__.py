"""An invented campaign, run from the first evening to the answers, through the same use cases as a real one."""
