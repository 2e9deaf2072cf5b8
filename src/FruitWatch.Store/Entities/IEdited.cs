namespace FruitWatch.Store.Entities;

/// <summary>A row that people edit. Two edits of the same state: the second is refused, nothing is overwritten unseen.</summary>
public interface IEdited
{
    /// <summary>Counts the saved edits; raised by the store at every save, compared with what the editor had read.</summary>
    int Version { get; set; }
}
