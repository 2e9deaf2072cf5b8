namespace FruitWatch.Service.Channels.Email;

/// <summary>What a sender did in one go.</summary>
/// <param name="Sent">Taken by the relay, or written.</param>
/// <param name="Failed">Refused for good.</param>
/// <param name="Later">To be tried again.</param>
/// <param name="Unconfirmed">Tried twice without learning whether the relay took it.</param>
/// <param name="Expired">Ended because their time had passed.</param>
internal sealed record MailRun(int Sent, int Failed, int Later, int Unconfirmed, int Expired)
{
    public static readonly MailRun Nothing = new(0, 0, 0, 0, 0);

    /// <summary>Mails are waiting only because the hour's allowance is used up.</summary>
    public bool HeldByAllowance { get; init; }

    /// <summary>Why the relay or the folder could not be used, see <see cref="MailTroubles"/>; null where it could.</summary>
    public string? Problem { get; init; }
}
