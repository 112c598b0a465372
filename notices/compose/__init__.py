"""What a notice looks like: mail, bulletin, note to sellers and proofs, composed from the campaign. Values in, values out."""
