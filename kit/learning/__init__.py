"""What finished jobs teach: hours, waste and waits learned from the ledger, with how sure that is; a person takes it into the lists or doesn't."""
