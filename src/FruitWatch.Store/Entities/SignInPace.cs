using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>Sign-ins that failed of late, for one account from one kind of place, and how long the next has to wait.</summary>
public sealed class SignInPace
{
    /// <summary>Hash of the account's address and of the device it was tried from, or of "any unknown device".</summary>
    public required string Key { get; set; }

    /// <summary>Failures since the last success.</summary>
    public int Failures { get; set; }

    /// <summary>When the last one was.</summary>
    public Instant LastAt { get; set; }

    /// <summary>The next is not looked at before then.</summary>
    public Instant NotBefore { get; set; }
}
