using MimeKit;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>A mailbox to which reports come.</summary>
internal interface IReportBox
{
    /// <summary>
    /// Hands over what looks like a report, one by one, and deletes those that were taken, after they were. What is cut off in between is
    /// handed over again the next time.
    /// </summary>
    /// <param name="most">How many at most.</param>
    /// <param name="take">What is done with one; whether it is needed no more.</param>
    /// <param name="stop">Stops it.</param>
    /// <returns>How many messages were left.</returns>
    Task<int> EmptyAsync(int most, Func<MimeMessage, Task<bool>> take, CancellationToken stop);
}

/// <summary>What may be a report, seen from its header fields alone.</summary>
internal static class ReportLooks
{
    /// <summary>Whether it is worth reading: a multipart/report, or a message of odd servers that put the parts into another multipart.</summary>
    public static bool MayBe(HeaderList header, long size) =>
        size <= BounceIntake.LongestMessage && header[HeaderId.ContentType]?.TrimStart().StartsWith("multipart/", StringComparison.OrdinalIgnoreCase) == true;
}
