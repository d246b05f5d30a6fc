-- Words of no record, since what said them was refused, go with any erasure: they are found among the refused alone.

CREATE INDEX operation_log_refused_words ON operation_log (operation_id)
WHERE instr(answer, '"outcome":"kept"') = 0 AND instr(operation, '"private_sha256":') > 0;
