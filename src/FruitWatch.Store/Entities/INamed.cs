using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>
/// A row by whose name people know it, in calendars too, which have to tell when an entry was revised (RFC 5545 §3.8.7.3 and §3.8.7.4).
/// </summary>
public interface INamed
{
    /// <summary>What its growers call it.</summary>
    string Name { get; set; }

    /// <summary>How often its name, or what it grows, has changed; raised by the store.</summary>
    int Renamings { get; set; }

    /// <summary>When it last did; null while it is as it was made.</summary>
    Instant? RenamedAt { get; set; }
}
