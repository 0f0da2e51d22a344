# Answers the benchmark line by line: reads the columns named in columns.txt once, then evaluates what it is asked.
# A request is a word, a file and an expression, tab between: `time` answers milliseconds, `write` writes numbers.
folder <- commandArgs(trailingOnly = TRUE)[1]
for (line in readLines(file.path(folder, "columns.txt"))) {
  field <- strsplit(line, "\t")[[1]]
  path <- file.path(folder, field[1])
  n <- as.integer(field[3])
  assign(field[1], switch(field[2],
    integer = readBin(path, "integer", n, size = 4, endian = "little"),
    double = readBin(path, "double", n, size = 8, endian = "little")
  ))
}
requests <- file("stdin", open = "r")
while (length(line <- readLines(requests, n = 1)) > 0) {
  field <- strsplit(line, "\t")[[1]]
  answer <- tryCatch(
    {
      parsed <- parse(text = field[3])
      if (field[1] == "time") {
        invisible(gc(FALSE))
        started <- Sys.time()
        result <- eval(parsed)
        format(1000 * as.numeric(difftime(Sys.time(), started, units = "secs")), digits = 15)
      } else {
        numbers <- as.double(eval(parsed))
        writeBin(numbers, file.path(folder, field[2]), size = 8, endian = "little")
        as.character(length(numbers))
      }
    },
    error = function(e) paste("error:", gsub("[\r\n]+", " ", conditionMessage(e)))
  )
  cat("answer\t", answer, "\n", sep = "")
  flush(stdout())
}
