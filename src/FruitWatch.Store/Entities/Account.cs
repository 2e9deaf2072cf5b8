using Microsoft.AspNetCore.Identity;
using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>
/// What somebody signs in with: address, password, second factor, passkeys. Belongs to no cooperative; what it opens are the
/// <see cref="Person"/> rows that name it, one for each cooperative its holder is a member of.
/// </summary>
public sealed class Account : IdentityUser<long>
{
    /// <summary>Runs the service: sees its jobs and its health, and makes cooperatives. No right to what a cooperative keeps.</summary>
    public bool Operator { get; set; }

    /// <summary>When it was made.</summary>
    public Instant MadeAt { get; set; }
}
