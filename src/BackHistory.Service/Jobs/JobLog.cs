using Hangfire.Logging;

namespace BackHistory.Service.Jobs;

/// <summary>
/// Hangfire's words in the service's log. Hangfire keeps its log in a static field, which outlives a host; this one falls silent with its
/// host where the library's own would throw into a job of the next.
/// </summary>
internal sealed class JobLog(ILoggerFactory factory) : ILogProvider
{
    public Hangfire.Logging.ILog GetLogger(string name)
    {
        try
        {
            return new Line(factory.CreateLogger(name));
        }
        catch (ObjectDisposedException)
        {
            return new Line(Microsoft.Extensions.Logging.Abstractions.NullLogger.Instance);
        }
    }

    private sealed class Line(ILogger logger) : ILog
    {
        public bool Log(Hangfire.Logging.LogLevel logLevel, Func<string>? messageFunc, Exception? exception = null)
        {
            var level = logLevel switch
            {
                Hangfire.Logging.LogLevel.Trace => Microsoft.Extensions.Logging.LogLevel.Trace,
                Hangfire.Logging.LogLevel.Debug => Microsoft.Extensions.Logging.LogLevel.Debug,
                Hangfire.Logging.LogLevel.Info => Microsoft.Extensions.Logging.LogLevel.Information,
                Hangfire.Logging.LogLevel.Warn => Microsoft.Extensions.Logging.LogLevel.Warning,
                Hangfire.Logging.LogLevel.Error => Microsoft.Extensions.Logging.LogLevel.Error,
                _ => Microsoft.Extensions.Logging.LogLevel.Critical,
            };
            if (!logger.IsEnabled(level))
                return false;
            if (messageFunc is not null)
                logger.Log(level, exception, "{Message}", messageFunc());
            return true;
        }
    }
}
