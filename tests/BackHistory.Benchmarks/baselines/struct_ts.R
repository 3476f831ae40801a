# Milliseconds a fit of R's StructTS: local linear trend, known noise (variance 1), level without noise of its own, so that the
# slope's variance is the one unknown.
m <- as.matrix(read.table(file("stdin")))
fit <- function(v) suppressWarnings(StructTS(ts(v), type = "trend", fixed = c(0, NA, 1)))
invisible(fit(m[1, ]))
t <- system.time(for (i in seq_len(nrow(m))) fit(m[i, ]))[["elapsed"]]
cat(1000 * t / nrow(m))
