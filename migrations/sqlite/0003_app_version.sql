-- Which version of the app a device runs, as its last pull named it; nothing from apps of before 0.2.0.
ALTER TABLE devices ADD COLUMN app TEXT;
