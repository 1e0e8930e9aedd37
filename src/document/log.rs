//! Logs that thermometers and people write: lines of time and value.

use crate::error::{Error, ErrorKind};
use crate::units::{Spoken, Time, parse};

/// At most so many rows are read.
const MOST_ROWS: usize = 2_000_000;

/// Reads a log: a heading with units, then rows of time and value, separated by commas, semicolons or tabs. The
/// heading names the unit of each column in brackets ("time [min], room [°C]"); a time column may also hold clock
/// times ("17:05" or "17:05:30"), which then count from the first and may pass midnight. Columns after the second are
/// left aside.
///
/// # Errors
/// [`ErrorKind::Data`] with the line for a heading without units, a row that is not two numbers or has more values than
/// the heading has columns, or times that do not rise.
pub(crate) fn read_log<Q: Spoken>(text: &str, name: &str) -> Result<Vec<(Time, Q)>, Error> {
    let fault = |line: usize, problem: &str, value: &str, accepted: &str| {
        Error::new(ErrorKind::Data, problem)
            .with_value(value)
            .with_accepted(accepted)
            .within(format!("line {line}"))
            .within(name)
    };
    let mut lines = text.lines().enumerate().filter(|(_, l)| !l.trim().is_empty() && !l.trim_start().starts_with('#'));
    let form = "a heading such as \"time [min], room [°C]\"";
    let Some((first, heading)) = lines.next() else { return Err(fault(1, "an empty log", "", form)) };
    let separator = [';', '\t', ','].into_iter().find(|s| heading.contains(*s));
    let Some(separator) = separator else { return Err(fault(first + 1, "no two columns", heading, form)) };
    let unit = |column: &str| {
        let (_, rest) = column.split_once('[')?;
        Some(rest.split_once(']')?.0.trim().to_owned())
    };
    let columns: Vec<&str> = heading.split(separator).collect();
    let (time_unit, Some(value_unit)) = (unit(columns[0]), columns.get(1).and_then(|c| unit(c))) else {
        return Err(fault(first + 1, "a column without its unit in brackets", heading, form));
    };

    let mut rows: Vec<(Time, Q)> = Vec::new();
    let mut clock_start: Option<f64> = None;
    let mut days = 0.0;
    let mut last_clock = 0.0;
    for (index, line) in lines {
        let number = index + 1;
        if rows.len() >= MOST_ROWS {
            return Err(fault(number, "too many rows", line, &format!("at most {MOST_ROWS}")));
        }
        let mut cells = line.split(separator).map(str::trim);
        let (Some(time), Some(value)) = (cells.next(), cells.next().filter(|v| !v.is_empty())) else {
            return Err(fault(number, "a row without time and value", line, "time and value"));
        };
        // "0, 14,5" would else be read as 14.
        if line.trim().split(separator).skip(columns.len()).any(|cell| !cell.trim().is_empty()) {
            let accepted = "as many as there are columns; with decimal commas, semicolons between them";
            return Err(fault(number, "more values than the heading has columns", line, accepted));
        }
        // With semicolons a comma can only be a decimal comma.
        let plain = |cell: &str| if separator == ';' { cell.replace(',', ".") } else { cell.to_owned() };
        let place = |e: Error| e.within(format!("line {number}")).within(name);
        let time = if time.contains(':') {
            let Some(clock) = clock_seconds(time) else {
                return Err(fault(number, "not a clock time", time, "hours:minutes or hours:minutes:seconds"));
            };
            if clock_start.is_some() && clock < last_clock {
                days += 86_400.0;
            }
            last_clock = clock;
            let start = *clock_start.get_or_insert(clock);
            crate::units::seconds(clock + days - start)
        } else {
            let Some(unit) = &time_unit else {
                return Err(fault(number, "a time without unit", time, "[s], [min] or [h] in the heading"));
            };
            parse::<Time>(&format!("{} {unit}", plain(time))).map_err(place)?
        };
        let value: Q = parse(&format!("{} {value_unit}", plain(value))).map_err(place)?;
        if rows.last().is_some_and(|(before, _)| time <= *before) {
            return Err(fault(number, "times must rise", line, "a later time than in the row before"));
        }
        rows.push((time, value));
    }
    if rows.is_empty() {
        return Err(fault(first + 2, "a log without rows", "", "at least one row"));
    }
    Ok(rows)
}

/// Seconds since midnight.
fn clock_seconds(text: &str) -> Option<f64> {
    let parts: Vec<u32> = text.split(':').map(|p| p.trim().parse().ok()).collect::<Option<_>>()?;
    let (h, m, s) = match parts[..] {
        [h, m] => (h, m, 0),
        [h, m, s] => (h, m, s),
        _ => return None,
    };
    (h < 24 && m < 60 && s < 60).then(|| f64::from(h * 3600 + m * 60 + s))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Si, Temperature};

    #[test]
    fn minutes_clock_times_and_decimal_commas() {
        let plain = |text| {
            let rows: Vec<(Time, Temperature)> = read_log(text, "room.csv").unwrap();
            rows.iter().map(|(t, v)| (t.si(), (v.si() - 273.15).round())).collect::<Vec<_>>()
        };
        assert_eq!(plain("time [min], room [°C]\n0, 16\n# a remark\n\n30, 14.6\n"), [(0.0, 16.0), (1800.0, 15.0)]);
        assert_eq!(plain("clock; room [°C]\n23:30; 16,2\n00:15; 12\n"), [(0.0, 16.0), (2700.0, 12.0)]);
    }

    #[test]
    fn faults_name_file_line_and_what_is_accepted() {
        let fault = |text| read_log::<Temperature>(text, "room.csv").unwrap_err().to_string();
        assert!(fault("").starts_with("room.csv, line 1: an empty log"));
        assert!(fault("time, room\n0, 16").contains("without its unit in brackets"));
        assert!(fault("time [min], room [°C]\n0, 16\n0, 17").starts_with("room.csv, line 3: times must rise"));
        assert!(fault("time [min], room [°C]\n0, warm").starts_with("room.csv, line 2"));
        assert!(fault("time [min], room [°C]\n5,").contains("without time and value"));
        assert!(fault("clock, room [°C]\n25:00, 16").contains("not a clock time"));
        assert!(fault("time [min], room [°C]\n").contains("without rows"));
    }

    /// Decimal commas between commas: each reading would lose its decimals, and none would say so.
    #[test]
    fn a_row_with_more_values_than_columns_is_refused() {
        let read = |text| read_log::<Temperature>(text, "room.csv").map(|rows| rows.len()).map_err(|e| e.to_string());
        let error = read("time [min], room [°C]\n0, 14.5\n10, 11,5\n").unwrap_err();
        assert!(error.starts_with("room.csv, line 3: more values than the heading has columns"), "{error}");
        assert!(error.contains("semicolons"), "{error}");
        // A third column has its heading; a separator at the end is none.
        assert_eq!(read("time [min], room [°C], pot [°C]\n0, 14, 98\n10, 11\n20, 10, 95,\n"), Ok(3));
    }
}
