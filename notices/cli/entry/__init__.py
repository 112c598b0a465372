"""The entry points of the commands: only here do they meet the world, the pages they serve and the demo they run."""
