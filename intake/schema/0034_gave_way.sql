-- Where a value of a device gave way is found by the device, also among those of ten years.

CREATE INDEX disagreement_kept_from ON disagreement (kept ->> 'device_id');
CREATE INDEX disagreement_other_from ON disagreement (other ->> 'device_id');
