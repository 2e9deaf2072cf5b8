namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>A mailbox to which reports come, and mails that unsubscribe.</summary>
internal interface IReportBox
{
    /// <summary>
    /// Hands over what is <see cref="WorthReading"/>, one by one, the newest first, and deletes those that were taken, after they were. What is cut
    /// off in between is handed over again the next time.
    /// </summary>
    /// <param name="look">What is done with one, and how much is looked at.</param>
    /// <param name="stop">Stops it.</param>
    /// <returns>How many messages were left.</returns>
    Task<int> EmptyAsync(BoxLook look, CancellationToken stop);
}
