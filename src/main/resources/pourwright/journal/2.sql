-- How far the display of the scale was known to run behind (s), and how much its readings to scatter
-- at rest (g), when the run was recorded; empty where it was not known.

ALTER TABLE scale ADD COLUMN lag REAL;

ALTER TABLE scale ADD COLUMN noise REAL;
