"""What a notice looks like: mail, bulletin, note to sellers and proofs. Values in, values out."""
