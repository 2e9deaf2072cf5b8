namespace FruitWatch.Store.Entities;

/// <summary>Somebody who is told.</summary>
public sealed class Person : IEdited
{
    private string email = "";

    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>Whose member.</summary>
    public long CooperativeId { get; set; }

    /// <summary>What they are called.</summary>
    public required string Name { get; set; }

    /// <summary>E-mail address as they wrote it.</summary>
    public required string Email
    {
        get => email;
        set => (email, EmailNormalized) = (value, Normalize(value));
    }

    /// <summary>The address in the form in which two are compared; once per cooperative.</summary>
    public string EmailNormalized { get; private set; } = "";

    /// <summary>Two-letter code of the language they read.</summary>
    public string Language { get; set; } = "en";

    /// <summary>Whether they are told anything at present.</summary>
    public bool Active { get; set; } = true;

    /// <summary>Answers for the cooperative's feeds and sites: told what concerns them rather than a bed.</summary>
    public bool Coordinator { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; } = 1;

    /// <summary>Sites they are told about, where asked for in the query.</summary>
    public List<PersonSite> Sites { get; } = [];

    /// <summary>An address in the form in which two are compared: without spaces around it, in lower case.</summary>
    /// <remarks>A column of its own, because the two databases do not agree on comparing without case.</remarks>
    public static string Normalize(string email) => email.Trim().ToLowerInvariant();
}
